# Allergens and classes in English; names of ingredients stand as they are written.

## Allergens

allergen-almonds = almonds
allergen-anchovies = anchovies
allergen-barley = barley
allergen-brazil-nuts = brazil nuts
allergen-cashews = cashews
allergen-celery = celery
allergen-chestnuts = chestnuts
allergen-clams = clams
allergen-coconut = coconut
allergen-cod = cod
allergen-crab = crab
allergen-crayfish = crayfish
allergen-crustaceans = crustaceans
allergen-cuttlefish = cuttlefish
allergen-eggs = eggs
allergen-einkorn = einkorn
allergen-emmer = emmer
allergen-fish = fish
allergen-gluten = gluten
allergen-hazelnuts = hazelnuts
allergen-khorasan = khorasan wheat
allergen-lobster = lobster
allergen-lupin = lupin
allergen-macadamias = macadamias
allergen-milk = milk
allergen-molluscs = molluscs
allergen-mussels = mussels
allergen-mustard = mustard
allergen-nuts = nuts
allergen-oats = oats
allergen-octopus = octopus
allergen-oysters = oysters
allergen-peanuts = peanuts
allergen-pecans = pecans
allergen-pine-nuts = pine nuts
allergen-pistachios = pistachios
allergen-rye = rye
allergen-salmon = salmon
allergen-scallops = scallops
allergen-seafood = seafood
allergen-sesame = sesame
allergen-shellfish = shellfish
allergen-shrimps = shrimps
allergen-snails = snails
allergen-soybeans = soybeans
allergen-spelt = spelt
allergen-squid = squid
allergen-sulphites = sulphites
allergen-tree-nuts = tree nuts
allergen-triticale = triticale
allergen-tuna = tuna
allergen-walnuts = walnuts
allergen-wheat = wheat

## What a formula is put together of

name-old-dough = old dough

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
gloss-levain = Levain|A part of the dough raised with sourdough culture, built for this bake.
gloss-poolish = Poolish|A wet preferment of as much water as flour, with a little yeast.
gloss-biga = Biga|A stiff preferment with little yeast, which ripens slowly.
gloss-sponge = Sponge|A preferment of flour, liquid and yeast that rises before the rest is mixed in.
