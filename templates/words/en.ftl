# The printed words, in English.
#
# A bakehouse that wants other words, or another language, writes the messages it wants
# into `templates/words.ftl` of its folder; what is not there is taken from here. What
# stands in braces is filled in. A name that begins with `print-` reaches the templates,
# where its braces are filled in; all others are filled in before.

## Numbers and times

at-least = at least { $amount }
up-to = up to { $amount }
approximately = ≈ { $amount }
# A list: all but the last, with commas between them, and the last.
list-end = { $most } and { $last }

## What the formula makes

makes-flour = for { $weight } of flour
makes-dough = { $weight } of dough
makes-from = { $made } from { $weight } of { $name }
makes-left = { $weight } of dough left
serves = serves { $people }
print-serves = Serves { $people }
makes-pieces = { $count } { $kind } at { $weight }
# Kinds of piece in other languages, by the word in the formula; English needs none.

## The lines of a mix

last-batch = in the last batch { $weight }
more = up to { $weight } more
less = up to { $weight } less
to-taste = to taste
as-needed = as needed
pinch = a pinch
kept-back = kept back
kept-back-from = kept back from { $stage }
not-split = not split
the-rest = the rest
also-needed = Also needed
percent-of-its-flour = % of its flour
percent-of-its-grain = % of its grain
percent-of-its-seed = % of its seeds
percent-of-its-grain-and-seed = % of its grain and seeds
percent-of-all-flour = % of all flour
dough = Dough
cups = { $number ->
    [one] { $shown } cup
   *[other] { $shown } cups
}
tablespoons = { $shown } tbsp
teaspoons = { $shown } tsp
# Before a measure that is a little less, or more: "scant ½ tsp".
scant = scant { $amount }
generous = generous { $amount }
fluid-ounces = { $shown } fl oz
parts = { $number ->
    [one] { $shown } part
   *[other] { $shown } parts
}

## Figures

figure-hydration = Hydration
figure-true-hydration = True hydration
figure-hydration-of-added-flour = Hydration of added flour
figure-salt = Salt
figure-prefermented-flour = Prefermented
figure-liquids = Liquids
figure-effective-hydration = Effective hydration
figure-sugar = Sugar
figure-fat = Fat
figure-yeast-as-fresh = Yeast as fresh
figure-total-percentage = Total percentage
figure-dough-yield = Dough yield
figure-salt-as-eaten = Salt as eaten
figure-salt-as-declared = Salt as declared
figure-salt-in-other-ingredients = Salt in other ingredients
figure-flour = Flour
figure-dough = Dough
figure-elapsed = Elapsed
figure-hands-on = Hands-on
figure-of-all-flour = { $stage } of all flour
figure-of-added-flour = { $stage } of added flour
figure-of-dough = { $stage } of dough

## Dates

weekday-1 = Monday
weekday-2 = Tuesday
weekday-3 = Wednesday
weekday-4 = Thursday
weekday-5 = Friday
weekday-6 = Saturday
weekday-7 = Sunday
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
date = { $weekday } { $day } { $month }
date-with-year = { $date } { $year }
liquid-for = { $liquid } for { $step }
water-by-factor = by the factor method
water-by-balance = by heat balance
water-next = 1 { $unit } too warm: { $degrees } { $unit } colder water next time; too cold: as much warmer.
water-together = Water alone is too little: it would have to be { $alone }. Bring everything named here to the temperature beside it, together.
water-too-warm = Even so the dough comes out { $off } too warm: cool the flour, mix shorter or slower, or aim for a warmer dough.
water-too-cold = Even so the dough comes out { $off } too cold: warm the flour or the room, or aim for a cooler dough.
estimate-none = None of its steps is where this changes anything.
plan-beside = { $name } has a plan of its own: have it ready.
plan-no-hours = No waking hours given: set them with hours in the bakehouse, or --awake 06:30..22:00.
plan-not-proven = No nearer plan was looked for: this one keeps within all ranges.
plan-clocks-back = Clocks change on { $date }: from { $from } back to { $to }. The hour comes twice: A is before the change, B after it.
plan-clocks-forward = Clocks change on { $date }: from { $from } on to { $to }. The night is shorter.
plan-day-skipped = The calendar skips a day: { $before } is followed by { $after }.
plan-oven-twice = { $one } and { $two } are in the oven at the same time: { $date }, { $from }–{ $to }.
plan-oven-twice-named = { $one } and { $two } are in the oven { $machine } at the same time: { $date }, { $from }–{ $to }.
plan-mixer-twice = { $one } and { $two } need the mixer { $machine } at the same time: { $date }, { $from }–{ $to }.
plan-batch = { $step }, batch { $first } of { $count }
plan-batch-all = { $step }, { $count } batches
plan-batches = { $mixer } holds { $most }, so the { $dough } of dough are mixed in { $count } batches of { $batch }, one after the other: { $sum }. The times after that are those of the last batch; the first is { $ahead } further on.
plan-batches-untimed = { $mixer } holds { $most }, so the { $dough } of dough are mixed in { $count } batches of { $batch }, one after the other. No mixing time is given, so the plan counts none.
plan-stirred = { $step }: mix
plan-load = { $step }, load { $first } of { $count }
plan-load-all = { $step }, { $count } loads
plan-loads = { $made }: { $count } loads of the oven { $oven }, one after the other. The last one goes in { $ahead } after the first.
plan-loads-within = { $made }: { $count } loads of the oven { $oven }, one after the other. The last one waits { $ahead } longer than the first, still within the time for { $step }.
plan-loads-over = { $made }: { $count } loads of the oven { $oven }, one after the other. The last one waits { $ahead } longer than the first: with that, { $step } takes { $over } more than the { $most } that are written. Bake fewer, or keep the later loads cold.
plan-batches-over = For the first batch { $step } takes { $over } more than the { $most } that are written.
plan-ready-early = This is { $early } before { $time }: nothing later fits the hours.
plan-ready-nearest = This is { $early } before { $time }: of the plans that fit, it is nearest to the middle of each time that is written. The latest that fits is { $latest }.
plan-at-once = { $stage }: no time is given for it to stand, so it is mixed just before it is used, which is taken as { $time } of work.
plan-built-once = { $stage } is the same for several doughs and is built once: { $amounts }.
plan-built-each = { $stage } is the same for several doughs, but they need it at times too far apart for one build; each builds its own: { $times }.
plan-hands-twice = One pair of hands is needed in several places at once: { $date }, { $from }–{ $to } ({ $places }).
day-itself = that day
day-before = the day before
days-before = { $days } days before
day-after = the day after
days-after = { $days } days after
day-number = day { $number }
estimate = { $step }: { $written } at { $at } are taken as { $now } at { $room }, by the { $model }; known for { $range }
estimate-seed = { $step }: { $written } with { $at } % seed are taken as { $now } with { $room } %, by the { $model }; known for { $range }
estimate-course = { $estimate }; it starts at { $start }, and half of the difference is gone after { $time }
kept-culture = { $step } keeps its written time: what cultures do below { $temperature } is not known.
kept-no-temperature = { $step } keeps its written time: nothing says how warm it is.
kept-frozen = { $step } keeps its written time: it is frozen when it begins.
room-temperature = room temperature
no-time-given = no time given
plan-untimed = { $step }: no time is given, so it counts as none.
time-is-estimate = The time is an estimate.
model-lactic-bacteria-growth = growth of lactic bacteria
model-sourdough-yeast-growth = growth of sourdough yeast
model-bakers-yeast-growth = growth of baker's yeast
model-yeast-gas = gas from added yeast

## Steps

step-feed = Feed
step-build = Build
step-soak = Soak
step-scald = Scald
step-autolyse = Autolyse
step-mix = Mix
step-rest = Rest
step-fold = Fold
step-bulk = Bulk
step-divide = Divide
step-preshape = Preshape
step-shape = Shape
step-pan = Pan
step-proof = Proof
step-retard = Retard
step-chill = Chill
step-freeze = Freeze
step-laminate = Laminate
step-fill = Fill
step-top = Top
step-glaze = Glaze
# Brushed on before what is baked, fried or steamed goes in: egg wash, water, milk.
step-glaze-before-oven = Glaze
step-dust = Dust
step-wash = Wash
step-boil = Boil
step-steam = Steam
step-fry = Fry
step-score = Score
step-preheat = Preheat
step-turn = Turn over
step-bake = Bake
step-cool = Cool
step-slice = Slice
step-pack = Pack
step-mature = Mature
step-step = Step
step-mix-again = Mix again
# Verbs that stay as their author said them.
step-knead = Knead
step-stir = Stir
step-whisk = Whisk
step-beat = Beat
step-knock-back = Knock back
step-punch-down = Punch down
step-roll-out = Roll out
step-plait = Plait
step-braid = Braid
step-brush = Brush
step-sprinkle = Sprinkle
step-ripen = Ripen
step-stand = Stand
step-keep = Keep
# A step for one kind of piece: "Shape the rolls".
step-for = { $step } the { $kind }
words-for = { $kind }: { $words }

## What is said at a step

build-ferment = Mix { $names }. Cover.
build-soaker = Stir together { $names }. Cover.
build-scald = Pour the boiling liquid over the rest and stir: { $names }. Cover.
use-within = Use it within { $time }.
use-within-at = Use it within { $time } at { $temperature }.
then-leave = Then leave it.
then-at = Then at { $temperature }.
then-cooler = Then at a lower temperature.
then-warmer = Then at a higher temperature.
then-on = Then go on.
with = With { $names }.
the-flours = the flours
share-of = { $share } % of the { $name }
weight-of = { $weight } of { $name }
# A figure in the author's own sentence: "hold 200 g of water back".
weight-in-text = { $weight } of { $name }
rest-of = the rest of the { $name }
everything-else = everything else
# Where nothing was named before.
everything = all the ingredients
# Where later steps name what they put in.
everything-but = everything but { $names }
in-place = In the { $place }.
in-machine = In the { $place }.
by-hand = by hand
speed = speed { $speed }
covered = covered
uncovered = uncovered
steamed = with steam
vented = steam let out
fan = with the fan
fold = { $times ->
    [1] Fold once.
    [2] Fold twice.
   *[other] Fold { $times } times.
}
fold-every = { $times ->
    [1] Fold once.
    [2] Fold twice, every { $time }.
   *[other] Fold { $times } times, every { $time }.
}
fold-single = { $times ->
    [1] One single fold.
   *[other] { $times } single folds.
}
fold-single-every = { $times ->
    [1] One single fold.
   *[other] { $times } single folds, every { $time }.
}
fold-double = { $times ->
    [1] One double fold.
   *[other] { $times } double folds.
}
fold-double-every = { $times ->
    [1] One double fold.
   *[other] { $times } double folds, every { $time }.
}
until-volume = { $times ->
    [2] Until doubled in volume.
    [3] Until tripled in volume.
   *[other] Until it is { $factor } times its volume.
}
until-core = Until the core reaches { $temperature }.
until-acidity = Until pH { $value }.
until = Until { $words }.

# How long a stage waits: "8–10 h at 22 °C, then 12 h at 4 °C; keeps 2 h".
wait-at = { $time } at { $temperature }
wait-then = { $first }, then { $next }
wait-keeps = keeps { $wait }
wait-and = { $first }; { $next }

## Cautions

# Each usual caution is left out where the author has spoken of it: where a caution of
# theirs has one of the words below it. `*` stands for any ending.
caution-oven = Oven, pots and steam burn: dry gloves, and face away when a door or lid is opened.
caution-oven-words = oven, ovens, steam, steams, steaming, °c, °f, glove, gloves
caution-boiling = Boiling liquid scalds: pour away from yourself, and carry nothing over anybody.
caution-boiling-words = boil, boils, boiling, boiled, bath, baths, scald, scalds, scalding, hot water
caution-fat = Hot fat catches fire: keep a lid within reach to smother it, and never use water.
caution-fat-words = fat, fats, oil, oils, fry, fryer, frying
caution-blade = A blade cuts fingers as well as bread: keep it covered.
caution-blade-words = blade, blades, knife, knives
caution-mixer = Keep hands and sleeves out of a running mixer, and its guard down.
caution-mixer-words = mixer, mixers, guard, guards, hook, hooks
caution-raw = Raw flour, raw egg and raw dough are not for tasting.
caution-raw-words = raw
caution-warm = stands warm for { $time }. Bacteria grow in it, and some leave poisons that no oven destroys: keep it cold, or for a shorter time.
hurts-lye = Burns skin, and eyes for good: goggles, gloves, long sleeves. Lye goes into cold water, never water onto lye. No aluminium. On skin or in an eye: rinse with running water for 15 minutes, then see a doctor.
hurts-alum = Not for tasting, and harmful in more than a pinch: weigh it on a fine scale, and keep it away from salt and baking powder.
hurts-slaked-lime = Burns eyes and skin: goggles and gloves, and no dust in the air. On skin or in an eye: rinse with running water for 15 minutes, then see a doctor.
hurts-ammonium-bicarbonate = Gives off ammonia: do not breathe in over it or over the open oven, and use it only for what is thin and baked dry.

## Words of the templates

print-summary = In all
print-method = Method
print-ingredients = Ingredients
print-weights = Weights
print-steps = Steps
print-baked = about { $weight } baked
print-baked-alone = about { $weight } baked, the dough alone
print-as-eaten = about { $weight } with what it carries
print-of-dough = { $weight } of dough
print-of-dough-each = { $weight } of dough each
print-in-tin = in { $tin }
print-beside = With each piece
print-beside-kind = With each of the { $kind }
print-each = each
print-in-all = in all
print-equipment = Equipment
print-storage = Storage
print-notes = Notes
print-sources = Sources
print-take-care = Take care.
# Between a word and what it is of.
print-colon = :
print-contains = Contains
print-may-contain = May contain
print-allergens-unknown = Whether these hold allergens is not known:
print-page = page { $page } of { $pages }
print-to = to { $temperature }
print-ingredient = ingredient
print-batch = batch
print-of-batches = of { $batches }
print-each-batch = each of { $batches } batches
print-per-batch = per batch
print-once = once for the run
print-once-of-day = this batch’s share of one build
print-feed = feed { $feed } of { $feeds }
print-fed = fed { $feeds } times
print-total = total
print-total-formula = Total formula
print-dough = dough
print-pieces = pieces
print-goes-on = goes on
print-kept-back = kept back
print-last-batch-sum = in the last batch
print-saved = saved
print-left-over = left over
print-discarded = discarded
print-aimed-at = aimed at
print-measured = measured
print-initials = initials
print-step = step
print-time = time
print-temperature = temperature
print-done = done
print-weight = weight
print-percent = %
print-hydration = hydration { $hydration } %
print-figures = Figures
print-figure = figure
print-value = value
print-style = in the style of { $style }
print-contents = Contents
print-index = Index
woven-proved = proved
print-logo = Logo of { $house }
print-approximate = Volumes are approximate; the weights count.
print-card = card
print-sheet = sheet
print-table = table
print-volumes = Volumes
print-plan = Plan
print-ready = ready { $date }, { $time }
print-begins = begins { $date }, { $time }
print-hands = hands at work
print-waiting = waits by itself
print-cold = in the cold
print-oven = in the oven
print-night = no one there
print-at-night = night
print-any-week = any week
print-any-day = any day
print-out = out of the oven
print-folded = fold at { $times }
print-estimates = Estimates
print-zone = times in { $zone }
print-timeline = The day
print-takes = takes
print-to-do = what to do
print-continued = continued
print-water = water
print-ice = ice
print-fold = fold
print-clock = time

## Booklets

booklet-people = For { $people } people
booklet-learner = Learner's copy
booklet-teacher = Teacher's copy
booklet-glossary = Glossary
booklet-compare = Side by side
booklet-compare-with = { $formula }: { $line }
booklet-since = since { $revision }
booklet-bake-loss = bake loss
booklet-baked = { $kind }: one, baked
booklet-nothing-changed = Nothing in these figures has changed since { $revision }.
booklet-gives-up = What this flour gains, { $flour } gives up.
booklet-now = now
booklet-objection = { $column }: { $finding }.
booklet-reckoner = Ready reckoner: { $formula }
booklet-percentages = Percentages of flour
booklet-of-flour = of the flour
booklet-feeds = Feeding a culture
booklet-wanted = wanted
booklet-culture = culture
booklet-flour = flour
booklet-water = water
booklet-yeast = Yeast
booklet-as-fresh = as fresh
booklet-temperatures = Temperatures
booklet-weights = Grams and ounces
booklet-volumes = Cups and spoons
booklet-teaspoons = { $shown } tsp
booklet-tablespoons = { $shown } tbsp
booklet-cups = { $shown } cup
booklet-shopping = Shopping
booklet-needed = needed
booklet-packs = packs
booklet-left = left over
booklet-kept = { $culture } (kept)
booklet-worksheet = { $formula }: fill in the blanks
booklet-rounded = Numbers are rounded: an answer may differ by one step of the scale, or by one in its last digit.
booklet-on-paper = The formula’s other pages round for the scale, so that columns add up, and show: { $list }.
booklet-key = Key: { $worksheet }
booklet-answers = Answers
booklet-workings = How each blank follows
booklet-plan = { $formula } by the clock
booklet-times-need-hands = Times in bold need someone.
booklet-all-flour = all the flour of the column
print-blank = to be filled in
booklet-seat = Seat { $seat }
exercise-scale = another yield
exercise-scale-lead = Work out what is missing for { $yield }.
exercise-of-flour = { $weight } of flour
exercise-of-stage = { $weight } of { $stage }
exercise-true-hydration = how wet is it?
exercise-true-hydration-lead = Work out the hydration of what goes into the dough itself, and then with all that the stages bring.
exercise-hydration-with-stages = Hydration with the stages
exercise-wetter-lead = Then add water until the hydration with the stages is the one that is wanted.
exercise-wetter-wanted = Hydration with the stages, wanted
exercise-wetter-water = all the water, then
exercise-wetter-more = water to add
exercise-wetter-added = water added in the dough, then
exercise-wetter-then = Hydration of added flour, then
exercise-varied = The amounts are not those of the formula, so that each seat has its own.
exercise-water-added = water added in the dough
exercise-flour-added = flour added in the dough
exercise-water-brought = water that stages bring
exercise-flour-brought = flour that stages bring
exercise-substitute = another flour
exercise-substitute-lead = { $part } of all the flour is taken away from { $from }, and as much { $to } put in its place; the hydration stays.
exercise-before = before
exercise-after = after
exercise-starter = what to feed
exercise-starter-lead = You need { $weight } of { $stage }. How much of each goes in?
exercise-starter-need = You need { $weight } of { $stage }.
exercise-starter-sum = Round so that the parts add up to exactly that weight; any part may take the remainder.
exercise-adds-up = { $got }; rounded so that the parts add up: { $said }
exercise-water-temperature = water temperature
exercise-water-lead = How warm does the water have to be?
exercise-water-count = Room, flour and preferments each count as one temperature, and so does the water. Multiply the temperature of the dough by their number, then subtract all of them but the water, and the friction of the mixer.
exercise-water-last = Room, flour and preferments were as warm last time as they are now.
exercise-water-mixed = It is mixed from hot water and tap water. How much of each?
exercise-water-hot = Water above 45 °C (113 °F) kills yeast and cultures, and hot water scalds: work it out, but do not use water that hot. Let the room or the flour warm up first.
exercise-water-scalds = Hot water scalds: mix it with the tap water before flour, yeast or a culture meets it.
exercise-when-to-begin = when to begin
exercise-when-lead = The bread is to be ready at { $time }. When does each step begin?
exercise-when-stages = A stage has to be ready when the step after its arrow begins.
exercise-value = value
exercise-takes = takes
exercise-begins = begins
exercise-mistake = find the slip
exercise-mistake-lead = One amount in this formula is wrong. Which is it, and what should it be?
exercise-mistake-tenfold = It is ten times too large, or ten times too small.
exercise-mistake-swapped = In its percentage the first two digits have changed places.
exercise-mistake-missing = One line of this formula is missing. Which is it, and how much should there be?
exercise-mistake-dough = The weight of the dough below includes the missing line.
exercise-slip = the slip
exercise-right-weight = what it should weigh
exercise-off-by = off by
exercise-off-by-piece = off by, in each piece
exercise-factor = times as much
exercise-piece = weight of one
exercise-piece-baked = weight of one, baked
exercise-loss = lost in the oven
exercise-all-percent = all percentages together
exercise-all-flour = all the flour
exercise-all-water = all the water
exercise-hydration-of-stage = { $stage }: hydration
exercise-flour-of-stage = { $stage }: flour
exercise-both-of-stage = { $stage }: all together
exercise-exchanged = exchanged, of all flour
exercise-starter-twice = It is fed twice, in the same ratio, and all of the first feed goes into the second. What went into the first?
exercise-feed-before = the first feed
exercise-fed-before = flour of the first feed
exercise-last-time = { $what }, last time
exercise-ready = ready
finding-amount-doubtful = an amount that is hardly meant
finding-bake-doubtful = too little or too much heat in the oven
finding-batch-over-mixer = more dough than the mixer holds
finding-batch-under-mixer = too little dough for the mixer
finding-below-scale-resolution = less than the scale can show
finding-claim-refuted = a claim that is not true
finding-composition-impossible = a make-up that can’t be
finding-culture-doubtful = an unusual make-up of the culture
finding-eaten-raw = something that may be eaten raw
finding-flour-not-100 = flours that don’t come to 100 %
finding-hardly-rises = too little leavening to rise
finding-ice-too-much = more ice than there is water
finding-impossible-hydration = a hydration that makes no dough
finding-improver-high = too much improver
finding-ingredient-added-twice = an ingredient that goes in twice
finding-ingredient-never-added = an ingredient that no step adds
finding-liquids-unusual = an unusual amount of liquid
finding-loss-doubtful = an unusual loss in the oven
finding-malt-high = too much malt
finding-missing-salt = no salt
finding-more-than-there-is = more used than there is
finding-negative-weight = a weight below nothing
finding-no-effect = an amount that changes nothing
finding-no-flour = no flour
finding-no-leavening = nothing that makes it rise
finding-no-liquid = no liquid
finding-no-seed-left = no culture left for the next time
finding-outside-style = outside what the style allows
finding-oven-loads = several loads of the oven
finding-part-of-a-piece = part of a piece
finding-percent-or-grams = per cent and grams taken for each other
finding-piece-doubtful = an unusual weight of a piece
finding-prefermented-flour-high = too much prefermented flour
finding-ripening-doubtful = an unusual time of ripening
finding-salt-as-eaten-high = too much salt in the bread
finding-salt-high = too much salt
finding-salt-low = too little salt
finding-salt-not-weighed = salt that nobody weighs
finding-salt-yeast-swapped = salt and yeast taken for each other
finding-seed-share-doubtful = an unusual share of culture
finding-sour-flour-high = too much soured flour
finding-stage-not-ready = a stage that is not ripe in time
finding-stage-overripe = a stage that is past its peak
finding-stage-takes-more-than-total = a stage that takes more than there is
finding-stands-too-warm = something that stands warm for too long
finding-temperature-doubtful = a temperature that is hardly meant
finding-time-doubtful = a time that is hardly meant
finding-tin-fill = too little or too much for the tin
finding-water-too-hot = water that is too hot
finding-yeast-high = too much yeast
finding-yeast-killed = heat that kills the yeast
finding-yeast-kind-doubtful = an amount that fits another kind of yeast
finding-yield-disagrees = a yield that does not fit the weights
finding-found = { $finding }: { $found }
finding-and-usual = { $finding }; { $range } is usual
finding-and-allowed = { $finding }; { $range } is allowed
finding-up-to = up to { $amount }
finding-or-more = { $amount } or more

# A production day: a batch or build among several of its kind, and a pair of hands.
day-batch = { $name } { $number } of { $of }
day-hands = hands { $number }

# The lists of a production day.
print-day-plan = Day plan
print-day-mixing = Mixing list
print-day-levains = Levain list
print-day-bench = Bench list
print-day-oven = Oven list
print-day-requisition = Requisition
print-day-labels = Batch labels
print-day-packing = Packing list
print-day-counter = Counter
print-day-product = product
print-day-mixer = mixer
print-day-size = dough
print-day-hands-short = hands
print-day-for = goes into
print-day-heat = heat
print-day-out = out
print-day-by = by
print-day-done = done
print-day-mixed = mixed
print-day-latest = latest
print-day-packs = packs
print-day-short = short
print-day-there = on hand, ripe
print-day-left = left over
print-day-unknown = Not known what is in:
print-day-nothing = nothing to do
print-day-closed = nobody here
print-day-thaw = out of the freezer at
print-day-missing = left out
print-day-on-hand = on hand
print-day-late = late
print-day-by-hand = by hand
print-day-to-weigh = to weigh
print-day-store = from stores
