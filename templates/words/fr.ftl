# The printed words, in French.

## Numbers and times

at-least = au moins { $amount }
up-to = jusqu’à { $amount }
approximately = ≈ { $amount }
list-end = { $most } et { $last }

## What the formula makes

makes-flour = pour { $weight } de farine
makes-dough = { $weight } de pâte
makes-from = { $made } à partir de { $weight } { $of-name }
makes-left = il reste { $weight } de pâte
serves = pour { $people } personnes
print-serves = Pour { $people } personnes
makes-pieces = { $count } { $kind } de { $weight }
piece-loaf = pain
piece-loaves = pains
piece-roll = petit pain
piece-rolls = petits pains
piece-baguettes = baguettes
piece-boules = boules
piece-batards = bâtards
piece-buns = petits pains moelleux
piece-bagels = bagels
piece-pizzas = pizzas
piece-brioches = brioches
piece-croissants = croissants
piece-ciabatte = ciabattas
piece-trays = plaques
piece-tins = moules
piece-pieces = pièces
piece-knots = nœuds
piece-plaits = tresses
piece-flatbreads = pains plats
piece-crispbreads = pains croustillants
piece-baguette = baguette
piece-boule = boule
piece-batard = bâtard
piece-bun = petit pain moelleux
piece-bagel = bagel
piece-pizza = pizza
piece-brioche = brioche
piece-croissant = croissant
piece-ciabatta = ciabatta
piece-tray = plaque
piece-tin = moule
piece-piece = pièce
piece-knot = nœud
piece-plait = tresse
piece-flatbread = pain plat
piece-crispbread = pain croustillant
piece-ciabattas = ciabattas

## The lines of a mix

last-batch = dernière pétrissée : { $weight }
more = jusqu’à { $weight } de plus
less = jusqu’à { $weight } de moins
to-taste = selon le goût
as-needed = selon besoin
pinch = une pincée
kept-back = mis de côté
kept-back-from = mis de côté ({ $stage })
not-split = non décomposé
the-rest = le reste
also-needed = Il faut aussi
percent-of-its-flour = % de sa farine
percent-of-its-grain = % de ses grains
percent-of-its-seed = % de ses graines
percent-of-its-grain-and-seed = % de ses grains et graines
percent-of-all-flour = % de la farine totale
dough = Pâte
cups = { $number ->
    [one] { $shown } tasse
   *[other] { $shown } tasses
}
tablespoons = { $shown } c. à s.
teaspoons = { $shown } c. à c.
scant = un peu moins de { $amount }
generous = un peu plus de { $amount }
fluid-ounces = { $shown } oz liq.
parts = { $number ->
    [one] { $shown } part
   *[other] { $shown } parts
}

## Figures

figure-hydration = Taux d’hydratation
figure-true-hydration = Hydratation réelle
figure-hydration-of-added-flour = Hydratation de la farine ajoutée
figure-salt = Sel
figure-prefermented-flour = Farine préfermentée
figure-liquids = Liquides
figure-effective-hydration = Hydratation effective
figure-sugar = Sucre
figure-fat = Matière grasse
figure-yeast-as-fresh = Levure, en fraîche
figure-total-percentage = Total des pourcentages
figure-dough-yield = Rendement en pâte
figure-salt-as-eaten = Sel dans le pain
figure-salt-as-declared = Sel déclaré
figure-salt-in-other-ingredients = Sel des autres ingrédients
figure-flour = Farine
figure-dough = Pâte
figure-elapsed = Durée totale
figure-hands-on = Temps de travail
figure-of-all-flour = { $stage }, sur la farine totale
figure-of-added-flour = { $stage }, sur la farine ajoutée
figure-of-dough = { $stage }, sur la pâte

## Dates

weekday-1 = lundi
weekday-2 = mardi
weekday-3 = mercredi
weekday-4 = jeudi
weekday-5 = vendredi
weekday-6 = samedi
weekday-7 = dimanche
month-1 = janvier
month-2 = février
month-3 = mars
month-4 = avril
month-5 = mai
month-6 = juin
month-7 = juillet
month-8 = août
month-9 = septembre
month-10 = octobre
month-11 = novembre
month-12 = décembre
date = { $weekday } { $day } { $month }
date-with-year = { $date } { $year }
liquid-for = { $liquid } ({ $step })
water-by-factor = par la température de base
water-by-balance = par le bilan thermique
water-next = 1 { $unit } trop chaud : la prochaine fois, eau { $degrees } { $unit } plus froide ; trop froid : d’autant plus chaude.
water-together = L’eau seule ne suffit pas : elle devrait être à { $alone }. Amener ensemble tout ce qui est nommé ici à la température indiquée à côté.
water-too-warm = Même ainsi la pâte sort { $off } trop chaude : refroidir la farine, pétrir moins longtemps ou moins vite, ou viser une pâte plus chaude.
water-too-cold = Même ainsi la pâte sort { $off } trop froide : réchauffer la farine ou la pièce, ou viser une pâte plus froide.
estimate-none = Aucune étape n’est concernée.
plan-beside = { $name } a son propre plan : à prévoir à temps.
plan-no-hours = Aucune heure de veille n’est indiquée : les donner avec hours dans le bloc bakehouse, ou avec --awake 06:30..22:00.
plan-not-proven = Aucun plan mieux ajusté n’a été cherché : celui-ci respecte toutes les plages.
plan-clocks-back = Changement d’heure { $date } : de { $from } on revient à { $to }. Cette heure revient deux fois : A est avant le changement, B après.
plan-clocks-forward = Changement d’heure { $date } : de { $from } on passe à { $to }. La nuit est plus courte.
plan-day-skipped = Le calendrier saute un jour : { $before }, puis { $after }.
plan-oven-twice = { $one } et { $two } sont au four en même temps : { $date }, { $from }–{ $to }.
plan-oven-twice-named = { $one } et { $two } sont en même temps dans le four { $machine } : { $date }, { $from }–{ $to }.
plan-mixer-twice = { $one } et { $two } demandent en même temps le pétrin { $machine } : { $date }, { $from }–{ $to }.
plan-batch = { $step }, pétrissée { $first } sur { $count }
plan-batch-all = { $step }, { $count } pétrissées
plan-batches = { $mixer } contient { $most } ; les { $dough } de pâte se pétrissent donc en { $count } pétrissées de { $batch }, l’une après l’autre : { $sum }. Les heures qui suivent sont celles de la dernière ; la première a { $ahead } d’avance.
plan-batches-untimed = { $mixer } contient { $most } ; les { $dough } de pâte se pétrissent donc en { $count } pétrissées de { $batch }, l’une après l’autre. Aucune durée de pétrissage n’est donnée : le plan n’en compte pas.
plan-stirred = { $step } : mélanger
plan-load = { $step }, fournée { $first } sur { $count }
plan-load-all = { $step }, { $count } fournées
plan-loads = { $made } : { $count } fournées au four { $oven }, l’une après l’autre. La dernière est enfournée { $ahead } après la première.
plan-loads-within = { $made } : { $count } fournées au four { $oven }, l’une après l’autre. La dernière attend { $ahead } de plus que la première, encore dans le temps prévu pour { $step }.
plan-loads-over = { $made } : { $count } fournées au four { $oven }, l’une après l’autre. La dernière attend { $ahead } de plus que la première : { $step } dure alors { $over } de plus que les { $most } indiquées. Cuire moins de pièces, ou garder au froid les fournées suivantes.
plan-batches-over = Pour la première pétrissée, { $step } dure { $over } de plus que les { $most } indiquées.
plan-ready-early = C’est { $early } avant { $time } : aucun plan plus tardif ne tient dans les heures indiquées.
plan-ready-nearest = C’est { $early } avant { $time } : des plans possibles, c’est le plus proche du milieu des durées indiquées. Le plus tardif possible : { $latest }.
plan-at-once = { $stage } : aucune durée de repos n’est donnée ; le mélange se fait juste avant l’emploi, pour { $time } de travail.
plan-built-once = { $stage } sert à plusieurs pâtes et se prépare une seule fois : { $amounts }.
plan-built-each = { $stage } sert à plusieurs pâtes, mais à des heures trop éloignées ; chaque pâte a sa propre préparation : { $times }.
plan-hands-twice = Une seule paire de mains est demandée à plusieurs endroits à la fois : { $date }, { $from }–{ $to } ({ $places }).
day-itself = le jour même
day-before = la veille
days-before = { $days } jours avant
day-after = le lendemain
days-after = { $days } jours après
day-number = jour { $number }
estimate = { $step } : { $written } à { $at } se comptent comme { $now } à { $room }, d’après { $model } ; connu pour { $range }
estimate-seed = { $step } : { $written } avec { $at } % d’ensemencement se comptent comme { $now } avec { $room } %, d’après { $model } ; connu pour { $range }
estimate-course = { $estimate } ; départ à { $start }, l’écart est réduit de moitié en { $time }
kept-culture = { $step } garde la durée indiquée : on ne sait pas comment les levains travaillent au-dessous de { $temperature }.
kept-no-temperature = { $step } garde la durée indiquée : la température n’est pas connue.
kept-frozen = { $step } garde la durée indiquée : au départ, tout est congelé.
room-temperature = température ambiante
no-time-given = durée non indiquée
plan-untimed = { $step } : durée non indiquée, aucune n’est comptée.
time-is-estimate = La durée est une estimation.
model-lactic-bacteria-growth = la croissance des bactéries lactiques
model-sourdough-yeast-growth = la croissance des levures du levain
model-bakers-yeast-growth = la croissance de la levure de boulanger
model-yeast-gas = le gaz de la levure ajoutée

## Steps

step-feed = Rafraîchi
step-build = Préparation
step-soak = Trempage
step-scald = Échaudage
step-autolyse = Autolyse
step-mix = Pétrissage
step-rest = Détente
step-fold = Rabat
step-bulk = Pointage
step-divide = Division
step-preshape = Préfaçonnage
step-shape = Façonnage
step-pan = Mise en moule
step-proof = Apprêt
step-retard = Pousse au froid
step-chill = Mise au froid
step-freeze = Surgélation
step-laminate = Tourage
step-fill = Garnissage
step-top = Décor
step-glaze = Lustrage
step-glaze-before-oven = Dorure
step-dust = Saupoudrage
step-wash = Badigeonnage
step-boil = Pochage
step-steam = Cuisson à la vapeur
step-fry = Friture
step-score = Scarification
step-preheat = Préchauffage
step-turn = Retournement
step-bake = Cuisson
step-cool = Ressuage
step-slice = Tranchage
step-pack = Emballage
step-mature = Maturation
step-step = Étape
step-mix-again = Suite du pétrissage
# Verbs that stay as their author said them.
step-knead = Pétrissage
step-stir = Mélange
step-whisk = Fouettage
step-beat = Battage
step-knock-back = Dégazage
step-punch-down = Dégazage
step-roll-out = Abaissage
step-plait = Tressage
step-braid = Tressage
step-brush = Badigeonnage
step-sprinkle = Saupoudrage
step-ripen = Fermentation
step-stand = Repos
step-keep = Conservation
step-for = { $step } : { $kind }
words-for = { $kind } : { $words }

## What is said at a step

build-ferment = Mélanger : { $names }. Couvrir.
build-soaker = Mélanger : { $names }. Couvrir.
build-scald = Verser le liquide bouillant sur le reste et mélanger : { $names }. Couvrir.
use-within = À employer sous { $time }.
use-within-at = À employer sous { $time } à { $temperature }.
then-leave = Puis laisser reposer.
then-at = Puis à { $temperature }.
then-cooler = Puis à une température plus basse.
then-warmer = Puis à une température plus élevée.
then-on = Puis continuer.
with = Avec : { $names }.
the-flours = les farines
share-of = { $name } ({ $share } %)
weight-of = { $name } ({ $weight })
weight-in-text = { $weight } { $of-name }
rest-of = { $name } (le reste)
everything-else = tout le reste
# Where nothing was named before.
everything = tous les ingrédients
# Where later steps name what they put in.
everything-but = tous les ingrédients sauf : { $names }
in-place = Dans : { $place }.
in-machine = Machine : { $place }.
place-fridge = Au réfrigérateur.
place-refrigerator = Au réfrigérateur.
place-cooler = Au réfrigérateur.
place-retarder = En chambre à froid contrôlé.
place-walk-in = En chambre froide.
place-cold-room = En chambre froide.
place-proofer = En étuve.
place-prover = En étuve.
place-proof-box = En étuve.
place-proofing-box = En étuve.
place-proving-box = En étuve.
place-proving-drawer = En étuve.
place-cellar = À la cave.
place-freezer = Au congélateur.
place-oven = Au four.
by-hand = à la main
speed = vitesse { $speed }
covered = à couvert
uncovered = à découvert
steamed = avec buée
vented = oura ouvert
fan = chaleur tournante
fold = { $times ->
    [1] Un rabat.
   *[other] { $times } rabats.
}
fold-every = { $times ->
    [1] Un rabat.
   *[other] { $times } rabats, toutes les { $time }.
}
fold-single = { $times ->
    [1] Un tour simple.
   *[other] { $times } tours simples.
}
fold-single-every = { $times ->
    [1] Un tour simple.
   *[other] { $times } tours simples, toutes les { $time }.
}
fold-double = { $times ->
    [1] Un tour double.
   *[other] { $times } tours doubles.
}
fold-double-every = { $times ->
    [1] Un tour double.
   *[other] { $times } tours doubles, toutes les { $time }.
}
until-volume = { $times ->
    [2] Jusqu’à ce que le volume ait doublé.
    [3] Jusqu’à ce que le volume ait triplé.
   *[other] Jusqu’à { $factor } fois le volume de départ.
}
until-core = Jusqu’à { $temperature } à cœur.
until-acidity = Jusqu’à un pH de { $value }.
until = Jusqu’à : { $words }.

wait-at = { $time } à { $temperature }
wait-then = { $first }, puis { $next }
wait-keeps = se garde { $wait }
wait-and = { $first } ; { $next }

## Cautions

caution-oven = Le four, les cocottes et la buée brûlent : mettre des gants secs, et détourner le visage en ouvrant une porte ou un couvercle.
caution-oven-words = four, fours, vapeur, buée, gant, gants, °c, °f
caution-boiling = Un liquide bouillant brûle : verser loin de soi et ne rien porter au-dessus de quelqu’un.
caution-boiling-words = bouillant*, ébouillant*, bouillir, bain, bains, eau chaude
caution-fat = L’huile chaude prend feu : garder un couvercle à portée de main pour étouffer les flammes, ne jamais verser d’eau.
caution-fat-words = huile, huiles, graisse, graisses, friture, fritures
caution-blade = Une lame coupe aussi les doigts : la garder couverte.
caution-blade-words = lame, lames, couteau, couteaux
caution-mixer = Ni mains ni manches dans un pétrin en marche : garder la grille baissée.
caution-mixer-words = pétrin, pétrins, batteur, batteurs, grille, grilles, crochet, crochets
caution-raw = Ne pas goûter la farine crue, l’œuf cru ni la pâte crue.
caution-raw-words = cru, crue, crus, crues
caution-warm = reste { $time } au chaud. Des bactéries s’y développent, et certaines laissent des toxines que la cuisson ne détruit pas : garder au froid, ou moins longtemps.
hurts-lye = Brûle la peau, et les yeux pour toujours : porter lunettes, gants et manches longues. Verser la soude dans l’eau froide, jamais l’eau sur la soude. Pas d’aluminium. Sur la peau ou dans l’œil : rincer 15 minutes à l’eau courante, puis voir un médecin.
hurts-alum = Ne pas goûter ; nocif au-delà d’une pincée : peser sur une balance de précision, et ranger loin du sel et de la poudre à lever.
hurts-slaked-lime = Brûle les yeux et la peau : porter lunettes et gants, ne pas soulever de poussière. Sur la peau ou dans l’œil : rincer 15 minutes à l’eau courante, puis voir un médecin.
hurts-ammonium-bicarbonate = Dégage de l’ammoniac : ne pas respirer les vapeurs, ni celles du four ouvert ; seulement pour ce qui est mince et cuit jusqu’à être sec.

## Words of the templates

print-summary = En tout
print-method = Méthode
print-ingredients = Ingrédients
print-weights = Pesées
print-steps = Étapes
print-baked = environ { $weight } après cuisson
print-baked-alone = environ { $weight } après cuisson, pâte seule
print-as-eaten = environ { $weight } avec sa garniture
print-of-dough = { $weight } de pâte
print-of-dough-each = { $weight } de pâte par pièce
print-in-tin = en moule « { $tin } »
print-beside = Avec chaque pièce
print-beside-kind = Par pièce ({ $kind })
print-each = par pièce
print-in-all = en tout
print-equipment = Matériel
print-storage = Conservation
print-notes = Notes
print-sources = Sources
print-take-care = Attention.
# Between a word and what it is of.
print-colon =  :
print-contains = Contient :
print-may-contain = Peut contenir :
print-allergens-unknown = On ignore si ces ingrédients contiennent des allergènes :
print-page = page { $page } sur { $pages }
print-to = jusqu’à { $temperature }
print-ingredient = ingrédient
print-batch = pétrissée
print-of-batches = sur { $batches }
print-each-batch = chacune des { $batches } pétrissées
print-per-batch = par pétrissée
print-once = à préparer une fois
print-once-of-day = part de ce pétrin, d’une seule préparation
print-feed = rafraîchi { $feed } sur { $feeds }
print-fed = rafraîchi { $feeds } fois
print-total = total
print-total-formula = Formule totale
print-dough = pâte
print-pieces = pièces
print-goes-on = pour la suite
print-kept-back = mis de côté
print-last-batch-sum = dans la dernière pétrissée
print-saved = conservé
print-left-over = restant
print-discarded = jeté
print-aimed-at = température visée
print-measured = mesurée
print-initials = initiales
print-step = étape
print-time = durée
print-temperature = température
print-done = fait
print-weight = poids
print-percent = %
print-hydration = hydratation { $hydration } %
print-figures = Chiffres clés
print-figure = chiffre
print-value = valeur
print-style = style : { $style }
print-contents = Sommaire
print-index = Index
woven-proved = vérifié
print-logo = Logo : { $house }
print-approximate = Les volumes sont approximatifs, seuls les poids comptent.
print-card = fiche
print-sheet = feuille de pétrissée
print-table = tableau
print-volumes = Volumes
print-plan = Plan
print-ready = pour { $date }, { $time }
print-begins = début { $date }, { $time }
print-hands = travail
print-waiting = attente
print-cold = au froid
print-oven = au four
print-night = personne sur place
print-at-night = nuit
print-any-week = n’importe quelle semaine
print-any-day = n’importe quel jour
print-out = défournement
print-folded = rabats à { $times }
print-estimates = Estimations
print-zone = fuseau horaire : { $zone }
print-timeline = La journée
print-takes = durée
print-to-do = à faire
print-continued = suite
print-water = eau
print-ice = glace
print-fold = rabat
print-clock = heure

## Booklets

booklet-people = Pour { $people } personnes
booklet-learner = Pour l’élève
booklet-teacher = Pour l’enseignant
booklet-glossary = Lexique
booklet-compare = Comparaison
booklet-compare-with = { $formula } : { $line }
booklet-since = depuis { $revision }
booklet-bake-loss = perte à la cuisson
booklet-baked = { $kind } : une pièce cuite
booklet-nothing-changed = Rien dans ces chiffres n’a changé depuis { $revision }.
booklet-gives-up = Ce que cette farine gagne, { $flour } le cède.
booklet-now = maintenant
booklet-objection = { $column } : { $finding }.
booklet-reckoner = Barème : { $formula }
booklet-percentages = Pourcentages de la farine
booklet-of-flour = de la farine
booklet-feeds = Rafraîchir un levain
booklet-wanted = voulu
booklet-culture = levain chef
booklet-flour = farine
booklet-water = eau
booklet-yeast = Levure
booklet-as-fresh = en levure fraîche
booklet-temperatures = Températures
booklet-weights = Grammes et onces
booklet-volumes = Tasses et cuillères
booklet-teaspoons = { $shown } c. à c.
booklet-tablespoons = { $shown } c. à s.
booklet-cups = { $shown } tasse
booklet-shopping = Liste d’achats
booklet-needed = à prévoir
booklet-packs = paquets
booklet-left = reste
booklet-kept = { $culture } (entretenu)
booklet-worksheet = { $formula } : à compléter
booklet-rounded = Les nombres sont arrondis : une réponse peut différer d’un pas de la balance, ou d’une unité du dernier chiffre.
booklet-on-paper = À la balance, pour que les colonnes tombent juste, les autres pages de la formule donnent : { $list }.
booklet-key = Corrigé : { $worksheet }
booklet-answers = Corrigé
booklet-workings = Comment se calcule chaque case
booklet-plan = { $formula } : l’horaire
booklet-times-need-hands = Aux heures en gras, il faut quelqu’un.
booklet-all-flour = toute la farine de la colonne
print-blank = à compléter
booklet-seat = Place { $seat }
exercise-scale = une autre quantité
exercise-scale-lead = Calculez ce qui manque, pour { $yield }.
exercise-of-flour = { $weight } de farine
exercise-of-stage = { $weight } { $of-stage }
exercise-true-hydration = quelle hydratation ?
exercise-true-hydration-lead = Calculez l’hydratation de ce qui entre dans la pâte même, puis avec tout ce que les préferments apportent.
exercise-hydration-with-stages = Hydratation avec les préferments
exercise-wetter-lead = Ajoutez ensuite de l’eau jusqu’à ce que l’hydratation avec les préferments soit celle voulue.
exercise-wetter-wanted = Hydratation voulue avec les préferments
exercise-wetter-water = toute l’eau, ensuite
exercise-wetter-more = eau à ajouter
exercise-wetter-added = eau ajoutée dans la pâte, ensuite
exercise-wetter-then = Hydratation de la farine ajoutée, ensuite
exercise-varied = Les quantités ne sont pas celles de la formule, pour que chaque place ait les siennes.
exercise-water-added = eau ajoutée dans la pâte
exercise-flour-added = farine ajoutée dans la pâte
exercise-water-brought = eau apportée par les préferments
exercise-flour-brought = farine apportée par les préferments
exercise-substitute = une autre farine
exercise-substitute-lead = { $part } du total de la farine sont remplacés : moins de { $from }, et autant de { $to } en plus ; l’hydratation ne change pas.
exercise-before = avant
exercise-after = après
exercise-starter = que donner au levain ?
exercise-starter-lead = Il faut { $weight } { $of-stage }. Combien de chaque ingrédient y entre-t-il ?
exercise-starter-need = Il faut { $weight } { $of-stage }.
exercise-starter-sum = Arrondissez de sorte que les parts fassent exactement ce poids ; peu importe laquelle prend le reste.
exercise-adds-up = { $got } ; arrondi pour que les parts tombent juste : { $said }
exercise-water-temperature = température de l’eau
exercise-water-lead = À quelle température doit être l’eau ?
exercise-water-count = Le fournil, la farine et les préferments comptent chacun pour une température, et l’eau aussi. Multipliez la température de la pâte par leur nombre, puis retirez toutes les autres que celle de l’eau, et l’échauffement du pétrin.
exercise-water-last = Le fournil, la farine et les préferments étaient la dernière fois aussi chauds que maintenant.
exercise-water-mixed = On la mélange à partir d’eau chaude et d’eau du robinet. Combien de chacune ?
exercise-water-hot = Au-dessus de 45 °C (113 °F), l’eau tue la levure et les levains, et l’eau chaude brûle : calculez-la, mais ne l’employez pas ainsi. Que le fournil ou la farine soient d’abord plus chauds.
exercise-water-scalds = L’eau chaude brûle : mélangez-la à l’eau du robinet avant que farine, levure ou levain n’y entrent.
exercise-when-to-begin = quand commencer ?
exercise-when-lead = Le pain doit être prêt à { $time }. Quand chaque étape commence-t-elle ?
exercise-when-stages = Un préferment doit être prêt quand commence l’étape indiquée après sa flèche.
exercise-value = valeur
exercise-takes = durée
exercise-begins = début
exercise-mistake = trouvez l’erreur
exercise-mistake-lead = Une quantité de cette formule est fausse. Laquelle, et que devrait-elle être ?
exercise-mistake-tenfold = Elle est dix fois trop grande, ou dix fois trop petite.
exercise-mistake-swapped = Dans son pourcentage, les deux premiers chiffres ont été intervertis.
exercise-mistake-missing = Il manque une ligne à cette formule. Laquelle, et combien en faut-il ?
exercise-mistake-dough = Le poids de toute la pâte est indiqué dessous.
exercise-slip = l’erreur
exercise-right-weight = ce qui serait juste
exercise-off-by = écart
exercise-off-by-piece = écart par pièce
exercise-factor = facteur
exercise-piece = poids d’une pièce
exercise-piece-baked = poids d’une pièce, cuite
exercise-loss = perte au four
exercise-all-percent = total des pourcentages
exercise-all-flour = toute la farine
exercise-all-water = toute l’eau
exercise-hydration-of-stage = { $stage } : hydratation
exercise-flour-of-stage = { $stage } : farine
exercise-both-of-stage = { $stage } : tout ensemble
exercise-exchanged = remplacé, sur la farine totale
exercise-starter-twice = On rafraîchit deux fois, dans le même rapport, et tout le premier rafraîchi entre dans le second. Qu’est-ce qui est entré dans le premier ?
exercise-feed-before = premier rafraîchi
exercise-fed-before = farine du premier rafraîchi
exercise-last-time = { $what }, la dernière fois
exercise-ready = prêt
finding-amount-doubtful = une quantité qui n’est guère voulue
finding-bake-doubtful = trop ou trop peu de chaleur au four
finding-batch-over-mixer = plus de pâte que le pétrin n’en contient
finding-batch-under-mixer = trop peu de pâte pour le pétrin
finding-below-scale-resolution = moins que ce que la balance peut afficher
finding-claim-refuted = une affirmation fausse
finding-composition-impossible = une composition impossible
finding-culture-doubtful = un levain de composition inhabituelle
finding-eaten-raw = quelque chose qui risque d’être mangé cru
finding-flour-not-100 = des farines qui ne font pas 100 %
finding-hardly-rises = trop peu de ferment pour lever
finding-ice-too-much = plus de glace que d’eau
finding-impossible-hydration = une hydratation qui ne donne pas de pâte
finding-improver-high = trop d’améliorant
finding-ingredient-added-twice = un ingrédient ajouté deux fois
finding-ingredient-never-added = un ingrédient qu’aucune étape n’ajoute
finding-liquids-unusual = une quantité de liquide inhabituelle
finding-loss-doubtful = une perte à la cuisson inhabituelle
finding-malt-high = trop de malt
finding-missing-salt = pas de sel
finding-more-than-there-is = plus employé qu’il n’y en a
finding-negative-weight = un poids négatif
finding-no-effect = une quantité qui ne change rien
finding-no-flour = pas de farine
finding-no-leavening = rien qui fasse lever
finding-no-liquid = pas de liquide
finding-no-seed-left = plus de levain-chef pour la fois suivante
finding-outside-style = en dehors de ce que le style admet
finding-oven-loads = plusieurs fournées
finding-part-of-a-piece = une fraction de pièce
finding-percent-or-grams = pour cent et grammes confondus
finding-piece-doubtful = un poids de pièce inhabituel
finding-prefermented-flour-high = trop de farine préfermentée
finding-ripening-doubtful = un temps de maturation inhabituel
finding-salt-as-eaten-high = trop de sel dans le pain
finding-salt-high = trop de sel
finding-salt-low = trop peu de sel
finding-salt-not-weighed = du sel que personne ne pèse
finding-salt-yeast-swapped = sel et levure confondus
finding-seed-share-doubtful = une part de levain-chef inhabituelle
finding-sour-flour-high = trop de farine acidifiée
finding-stage-not-ready = une étape préalable qui n’est pas mûre à temps
finding-stage-overripe = une étape préalable trop mûre
finding-stage-takes-more-than-total = une étape préalable qui prend plus qu’il n’y a
finding-stands-too-warm = quelque chose qui reste trop longtemps au chaud
finding-temperature-doubtful = une température qui n’est guère voulue
finding-time-doubtful = une durée qui n’est guère voulue
finding-tin-fill = trop ou trop peu pour le moule
finding-water-too-hot = de l’eau trop chaude
finding-yeast-high = trop de levure
finding-yeast-killed = une chaleur qui tue la levure
finding-yeast-kind-doubtful = une quantité qui convient à une autre levure
finding-yield-disagrees = un rendement qui ne s’accorde pas avec les poids
finding-found = { $finding } : { $found }
finding-and-usual = { $finding } ; d’usage : { $range }
finding-and-allowed = { $finding } ; admis : { $range }
finding-up-to = jusqu’à { $amount }
finding-or-more = { $amount } ou plus

# A production day: a batch or build among several of its kind, and a pair of hands.
day-batch = { $name } { $number } sur { $of }
day-hands = mains { $number }

# The lists of a production day.
print-day-plan = Plan du jour
print-day-mixing = Liste de pétrissage
print-day-levains = Liste des levains
print-day-bench = Liste de travail
print-day-oven = Liste de cuisson
print-day-requisition = Sorties de stock
print-day-labels = Étiquettes des pâtes
print-day-packing = Liste de livraison
print-day-counter = Magasin
print-day-product = produit
print-day-mixer = pétrin
print-day-size = pâte
print-day-hands-short = mains
print-day-for = va dans
print-day-heat = température
print-day-out = sortie
print-day-by = pour
print-day-done = prêt
print-day-mixed = pétri
print-day-latest = au plus tard
print-day-packs = paquets
print-day-short = manque
print-day-there = disponible, mûr
print-day-left = reste
print-day-unknown = Composition inconnue :
print-day-nothing = rien à faire
print-day-closed = personne sur place
print-day-thaw = à sortir du congélateur à
print-day-missing = sans place
print-day-on-hand = en réserve
print-day-late = en retard
print-day-by-hand = à la main
print-day-to-weigh = à peser
print-day-store = du stock
