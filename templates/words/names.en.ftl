# Allergens and classes in English; names of ingredients stand as they are written.

## Allergens

allergen-almonds = almonds
allergen-barley = barley
allergen-brazil-nuts = brazil nuts
allergen-cashews = cashews
allergen-celery = celery
allergen-crustaceans = crustaceans
allergen-eggs = eggs
allergen-fish = fish
allergen-gluten = gluten
allergen-hazelnuts = hazelnuts
allergen-lupin = lupin
allergen-macadamias = macadamias
allergen-milk = milk
allergen-molluscs = molluscs
allergen-mustard = mustard
allergen-nuts = nuts
allergen-oats = oats
allergen-peanuts = peanuts
allergen-pecans = pecans
allergen-pine-nuts = pine nuts
allergen-pistachios = pistachios
allergen-rye = rye
allergen-sesame = sesame
allergen-soybeans = soybeans
allergen-spelt = spelt
allergen-sulphites = sulphites
allergen-walnuts = walnuts
allergen-wheat = wheat

## Classes

class-flour = flour
class-water = water
class-salt = salt
class-yeast = yeast
class-leavener = leavener
class-culture = culture
class-sugar = sugar
class-fat = fat
class-egg = egg
class-dairy = dairy
class-liquid = liquid
class-grain = grain
class-seed = seed
class-nut = nut
class-fruit = fruit
class-vegetable = vegetable
class-malt = malt
class-spice = spice
class-improver = improver
class-other = other
class-dough = dough
