# The printed words, in German.

## Numbers and times

at-least = mindestens { $amount }
up-to = bis zu { $amount }
approximately = ≈ { $amount }
list-end = { $most } und { $last }

## What the formula makes

makes-flour = für { $weight } Mehl
makes-dough = { $weight } Teig
makes-from = { $made } aus { $weight } { $name }
makes-left = { $weight } Teig bleiben übrig
serves = für { $people } Personen
print-serves = Für { $people } Personen
makes-pieces = { $count } { $kind } zu { $weight }
piece-loaf = Brot
piece-loaves = Brote
piece-roll = Brötchen
piece-rolls = Brötchen
piece-baguettes = Baguettes
piece-boules = runde Brote
piece-batards = längliche Brote
piece-buns = weiche Brötchen
piece-bagels = Bagels
piece-pizzas = Pizzen
piece-brioches = Brioches
piece-croissants = Croissants
piece-ciabatte = Ciabatte
piece-trays = Bleche
piece-tins = Kastenformen
piece-pieces = Stück
piece-knots = Knoten
piece-plaits = Zöpfe
piece-flatbreads = Fladenbrote
piece-crispbreads = Knäckebrote
piece-baguette = Baguette
piece-boule = rundes Brot
piece-batard = längliches Brot
piece-bun = weiches Brötchen
piece-bagel = Bagel
piece-pizza = Pizza
piece-brioche = Brioche
piece-croissant = Croissant
piece-ciabatta = Ciabatta
piece-tray = Blech
piece-tin = Kastenform
piece-piece = Stück
piece-knot = Knoten
piece-plait = Zopf
piece-flatbread = Fladenbrot
piece-crispbread = Knäckebrot
piece-ciabattas = Ciabatte

## The lines of a mix

last-batch = im letzten Teig { $weight }
more = bis zu { $weight } mehr
less = bis zu { $weight } weniger
to-taste = nach Geschmack
as-needed = nach Bedarf
pinch = eine Prise
kept-back = zurückgehalten
kept-back-from = zurückgehalten ({ $stage })
not-split = nicht aufgeteilt
the-rest = der Rest
also-needed = Außerdem
percent-of-its-flour = % vom eigenen Mehl
percent-of-its-grain = % vom eigenen Korn
percent-of-its-seed = % von den eigenen Saaten
percent-of-its-grain-and-seed = % von Korn und Saaten
percent-of-all-flour = % vom Gesamtmehl
dough = Teig
cups = { $number ->
    [one] { $shown } Tasse
   *[other] { $shown } Tassen
}
tablespoons = { $shown } EL
teaspoons = { $shown } TL
scant = knapp { $amount }
generous = gut { $amount }
fluid-ounces = { $shown } fl oz
parts = { $number ->
    [one] { $shown } Teil
   *[other] { $shown } Teile
}

## Figures

figure-hydration = Hydration
figure-true-hydration = Tatsächliche Hydration
figure-hydration-of-added-flour = Hydration des zugegebenen Mehls
figure-salt = Salz
figure-prefermented-flour = Vorfermentiertes Mehl
figure-liquids = Flüssigkeit
figure-effective-hydration = Wirksame Hydration
figure-sugar = Zucker
figure-fat = Fett
figure-yeast-as-fresh = Hefe, als frische
figure-total-percentage = Summe der Prozente
figure-dough-yield = Teigausbeute
figure-salt-as-eaten = Salz im fertigen Brot
figure-salt-as-declared = Salz laut Deklaration
figure-salt-in-other-ingredients = Salz in anderen Zutaten
figure-flour = Mehl
figure-dough = Teig
figure-elapsed = Gesamtzeit
figure-hands-on = Arbeitszeit
figure-of-all-flour = { $stage }, vom Gesamtmehl
figure-of-added-flour = { $stage }, vom zugegebenen Mehl
figure-of-dough = { $stage }, vom Teig

## Dates

weekday-1 = Montag
weekday-2 = Dienstag
weekday-3 = Mittwoch
weekday-4 = Donnerstag
weekday-5 = Freitag
weekday-6 = Samstag
weekday-7 = Sonntag
month-1 = Januar
month-2 = Februar
month-3 = März
month-4 = April
month-5 = Mai
month-6 = Juni
month-7 = Juli
month-8 = August
month-9 = September
month-10 = Oktober
month-11 = November
month-12 = Dezember
date = { $weekday }, { $day }. { $month }
date-with-year = { $date } { $year }
liquid-for = { $liquid } ({ $step })
water-by-factor = nach der Faktormethode
water-by-balance = nach der Wärmebilanz
water-next = 1 { $unit } zu warm: nächstes Mal { $degrees } { $unit } kälteres Wasser; zu kalt: ebenso viel wärmeres.
water-together = Das Wasser allein reicht nicht: Es müsste { $alone } haben. Alles hier Genannte zusammen auf die nebenstehende Temperatur bringen.
water-too-warm = Auch so wird der Teig { $off } zu warm: Mehl kühlen, kürzer oder langsamer kneten oder einen wärmeren Teig anstreben.
water-too-cold = Auch so wird der Teig { $off } zu kalt: Mehl oder Raum wärmen oder einen kühleren Teig anstreben.
estimate-none = Kein Schritt ist davon betroffen.
plan-beside = { $name } hat einen eigenen Plan und muss bereitstehen.
plan-no-hours = Keine Wachzeiten angegeben: mit hours im Block bakehouse oder mit --awake 06:30..22:00 festlegen.
plan-not-proven = Nach einem noch passenderen Plan wurde nicht gesucht; dieser hält alle Spannen ein.
plan-clocks-back = Die Uhren werden umgestellt: { $date }, von { $from } zurück auf { $to }. Die Stunde gibt es zweimal: A liegt vor der Umstellung, B danach.
plan-clocks-forward = Die Uhren werden umgestellt: { $date }, von { $from } vor auf { $to }. Die Nacht ist kürzer.
plan-day-skipped = Der Kalender überspringt einen Tag: Auf { $before } folgt { $after }.
plan-oven-twice = { $one } und { $two } sind zur selben Zeit im Ofen: { $date }, { $from }–{ $to }.
plan-oven-twice-named = { $one } und { $two } sind zur selben Zeit im Ofen { $machine }: { $date }, { $from }–{ $to }.
plan-mixer-twice = { $one } und { $two } brauchen zur selben Zeit den Kneter { $machine }: { $date }, { $from }–{ $to }.
plan-batch = { $step }, Teig { $first } von { $count }
plan-batch-all = { $step }, { $count } Teige
plan-batches = { $mixer } fasst { $most }; die { $dough } Teig werden deshalb in { $count } Teigen zu { $batch } geknetet, einer nach dem anderen: { $sum }. Die Zeiten danach sind die des letzten; der erste ist { $ahead } weiter.
plan-batches-untimed = { $mixer } fasst { $most }; die { $dough } Teig werden deshalb in { $count } Teigen zu { $batch } geknetet, einer nach dem anderen. Es ist keine Knetzeit angegeben; der Plan rechnet keine ein.
plan-stirred = { $step }: mischen
plan-load = { $step }, Schuss { $first } von { $count }
plan-load-all = { $step }, { $count } Schüsse
plan-loads = { $made }: { $count } Schüsse im Ofen { $oven }, einer nach dem anderen. Der letzte kommt { $ahead } nach dem ersten in den Ofen.
plan-loads-within = { $made }: { $count } Schüsse im Ofen { $oven }, einer nach dem anderen. Der letzte wartet { $ahead } länger als der erste, noch innerhalb der Zeit für { $step }.
plan-loads-over = { $made }: { $count } Schüsse im Ofen { $oven }, einer nach dem anderen. Der letzte wartet { $ahead } länger als der erste: Damit dauert { $step } { $over } länger als die angegebenen { $most }. Weniger backen oder die späteren Schüsse kalt stellen.
plan-batches-over = Beim ersten Teig dauert { $step } { $over } länger als die angegebenen { $most }.
plan-ready-early = Das ist { $early } vor { $time }: Ein späterer Plan passt nicht in die angegebenen Stunden.
plan-ready-nearest = Das ist { $early } vor { $time }: Unter den Plänen, die passen, liegt dieser der Mitte der angegebenen Zeiten am nächsten. Der späteste, der passt: { $latest }.
plan-at-once = { $stage }: Keine Standzeit angegeben; gemischt wird unmittelbar vor dem Gebrauch, dafür sind { $time } Arbeitszeit gerechnet.
plan-built-once = { $stage } ist für mehrere Teige gleich und wird einmal angesetzt: { $amounts }.
plan-built-each = { $stage } ist für mehrere Teige gleich, wird aber zu weit auseinanderliegenden Zeiten gebraucht; jeder bekommt einen eigenen Ansatz: { $times }.
plan-hands-twice = Ein Paar Hände wird an mehreren Stellen zugleich gebraucht: { $date }, { $from }–{ $to } ({ $places }).
day-itself = am Tag selbst
day-before = am Vortag
days-before = { $days } Tage vorher
day-after = am Folgetag
days-after = { $days } Tage später
day-number = Tag { $number }
estimate = { $step }: { $written } bei { $at } sind als { $now } bei { $room } gerechnet, nach { $model }; bekannt für { $range }
estimate-seed = { $step }: { $written } mit { $at } % Anstellgut sind als { $now } mit { $room } % gerechnet, nach { $model }; bekannt für { $range }
estimate-course = { $estimate }; Beginn bei { $start }, nach { $time } ist die Hälfte des Unterschieds ausgeglichen
kept-culture = { $step } behält die angegebene Zeit: Wie Kulturen unter { $temperature } arbeiten, ist nicht bekannt.
kept-no-temperature = { $step } behält die angegebene Zeit: Die Temperatur ist nicht angegeben.
kept-frozen = { $step } behält die angegebene Zeit: Zu Beginn ist alles gefroren.
room-temperature = Raumtemperatur
no-time-given = keine Zeit angegeben
plan-untimed = { $step }: keine Zeit angegeben; gerechnet wird keine.
time-is-estimate = Die Zeit ist geschätzt.
model-lactic-bacteria-growth = dem Wachstum der Milchsäurebakterien
model-sourdough-yeast-growth = dem Wachstum der Sauerteighefen
model-bakers-yeast-growth = dem Wachstum der Backhefe
model-yeast-gas = der Gasbildung der zugegebenen Hefe

## Steps

step-feed = Auffrischen
step-build = Ansetzen
step-soak = Quellen
step-scald = Brühen
step-autolyse = Autolyse
step-mix = Kneten
step-rest = Teigruhe
step-fold = Falten
step-bulk = Stockgare
step-divide = Teilen
step-preshape = Vorformen
step-shape = Formen
step-pan = Einlegen
step-proof = Stückgare
step-retard = Gärverzögerung
step-chill = Kühlen
step-freeze = Frosten
step-laminate = Tourieren
step-fill = Füllen
step-top = Bestreuen
step-glaze = Abglänzen
step-glaze-before-oven = Bestreichen
step-dust = Bestäuben
step-wash = Bestreichen
step-boil = Kochen
step-steam = Dämpfen
step-fry = Frittieren
step-score = Einschneiden
step-preheat = Vorheizen
step-turn = Wenden
step-bake = Backen
step-cool = Auskühlen
step-slice = Schneiden
step-pack = Verpacken
step-mature = Durchziehen
step-step = Schritt
step-mix-again = Weiterkneten
# Verbs that stay as their author said them.
step-knead = Kneten
step-stir = Rühren
step-whisk = Aufschlagen
step-beat = Schlagen
step-knock-back = Entgasen
step-punch-down = Entgasen
step-roll-out = Ausrollen
step-plait = Flechten
step-braid = Flechten
step-brush = Bestreichen
step-sprinkle = Bestreuen
step-ripen = Reifen
step-stand = Stehen lassen
step-keep = Aufbewahren
step-for = { $step }: { $kind }
words-for = { $kind }: { $words }

## What is said at a step

build-ferment = Mischen: { $names }. Abdecken.
build-soaker = Verrühren: { $names }. Abdecken.
build-scald = Kochende Flüssigkeit auf den Rest gießen und rühren: { $names }. Abdecken.
use-within = Innerhalb von { $time } verwenden.
use-within-at = Innerhalb von { $time } bei { $temperature } verwenden.
then-leave = Dann stehen lassen.
then-at = Dann bei { $temperature }.
then-cooler = Dann bei niedrigerer Temperatur.
then-warmer = Dann bei höherer Temperatur.
then-on = Dann weiter.
with = Mit: { $names }.
the-flours = alle Mehle
share-of = { $name } ({ $share } %)
weight-of = { $name } ({ $weight })
weight-in-text = { $weight } { $name }
rest-of = { $name } (Rest)
everything-else = alles Übrige
# Where nothing was named before.
everything = alle Zutaten
# Where later steps name what they put in.
everything-but = alle Zutaten außer: { $names }
in-place = In: { $place }.
in-machine = Maschine: { $place }.
place-fridge = Im Kühlschrank.
place-refrigerator = Im Kühlschrank.
place-cooler = Im Kühlschrank.
place-retarder = Im Gärverzögerer.
place-walk-in = Im Kühlraum.
place-cold-room = Im Kühlraum.
place-proofer = Im Gärschrank.
place-prover = Im Gärschrank.
place-proof-box = Im Gärschrank.
place-proofing-box = Im Gärschrank.
place-proving-box = Im Gärschrank.
place-proving-drawer = Im Gärschrank.
place-cellar = Im Keller.
place-freezer = Im Gefrierschrank.
place-oven = Im Ofen.
by-hand = von Hand
speed = Gang { $speed }
covered = abgedeckt
uncovered = offen
steamed = mit Schwaden
vented = Zug offen
fan = mit Umluft
fold = { $times ->
    [1] Einmal falten.
   *[other] { $times }-mal falten.
}
fold-every = { $times ->
    [1] Einmal falten.
   *[other] { $times }-mal falten, alle { $time }.
}
fold-single = { $times ->
    [1] Eine einfache Tour.
   *[other] { $times } einfache Touren.
}
fold-single-every = { $times ->
    [1] Eine einfache Tour.
   *[other] { $times } einfache Touren, alle { $time }.
}
fold-double = { $times ->
    [1] Eine doppelte Tour.
   *[other] { $times } doppelte Touren.
}
fold-double-every = { $times ->
    [1] Eine doppelte Tour.
   *[other] { $times } doppelte Touren, alle { $time }.
}
until-volume = { $times ->
    [2] Bis sich das Volumen verdoppelt hat.
    [3] Bis sich das Volumen verdreifacht hat.
   *[other] Bis zum { $factor }-fachen Volumen.
}
until-core = Bis { $temperature } Kerntemperatur.
until-acidity = Bis pH { $value }.
until = Bis: { $words }.

wait-at = { $time } bei { $temperature }
wait-then = { $first }, dann { $next }
wait-keeps = hält { $wait }
wait-and = { $first }; { $next }

## Cautions

caution-oven = An Ofen, Töpfen und Dampf verbrennt man sich: trockene Handschuhe tragen und beim Öffnen von Tür oder Deckel das Gesicht abwenden.
caution-oven-words = ofen, öfen, backofen, dampf, schwaden, handschuh*, °c, °f
caution-boiling = Kochende Flüssigkeit verbrüht: vom Körper weg gießen und nicht über andere hinwegtragen.
caution-boiling-words = kochend*, verbrüh*, kochen, bad, bäder, heißes wasser
caution-fat = Heißes Fett fängt Feuer: einen Deckel zum Ersticken in Reichweite halten, niemals Wasser nehmen.
caution-fat-words = fett, öl, öle, frittier*
caution-blade = Klingen schneiden auch Finger: abgedeckt aufbewahren.
caution-blade-words = klinge, klingen, messer
caution-mixer = Hände und Ärmel weg von der laufenden Knetmaschine, das Schutzgitter geschlossen halten.
caution-mixer-words = knetmaschine*, kneter, rührmaschine*, schutzgitter, haken, knethaken
caution-raw = Rohes Mehl, rohe Eier und rohen Teig nicht probieren.
caution-raw-words = roh, rohe, rohes, roher, rohem, rohen
caution-warm = steht { $time } warm. Keime vermehren sich darin, und manche hinterlassen Gifte, die kein Ofen zerstört: kühl stellen, oder kürzer stehen lassen.
hurts-lye = Verätzt die Haut, und die Augen für immer: Schutzbrille, Handschuhe und lange Ärmel tragen. Lauge ins kalte Wasser geben, nie Wasser auf Lauge. Nichts aus Aluminium verwenden. Auf der Haut oder im Auge: 15 Minuten unter fließendem Wasser spülen, dann zum Arzt.
hurts-alum = Nicht kosten; mehr als eine Prise schadet: auf der Feinwaage wiegen, getrennt von Salz und Backpulver aufbewahren.
hurts-slaked-lime = Verätzt Augen und Haut: Schutzbrille und Handschuhe tragen, keinen Staub aufwirbeln. Auf der Haut oder im Auge: 15 Minuten unter fließendem Wasser spülen, dann zum Arzt.
hurts-ammonium-bicarbonate = Setzt Ammoniak frei: die Dämpfe nicht einatmen, auch nicht am offenen Ofen; nur für Gebäck, das flach ist und trocken ausgebacken wird.

## Words of the templates

print-summary = Insgesamt
print-method = Herstellung
print-ingredients = Zutaten
print-weights = Gewichte
print-steps = Schritte
print-baked = gebacken etwa { $weight }
print-baked-alone = gebacken etwa { $weight }, nur der Teig
print-as-eaten = etwa { $weight } mit allem, was darauf- und hineinkommt
print-of-dough = { $weight } Teig
print-of-dough-each = je { $weight } Teig
print-in-tin = in der Form „{ $tin }“
print-beside = Zu jedem Stück
print-beside-kind = Zu jedem Stück ({ $kind })
print-each = je Stück
print-in-all = insgesamt
print-equipment = Geräte
print-storage = Aufbewahrung
print-notes = Anmerkungen
print-sources = Quellen
print-take-care = Vorsicht.
# Between a word and what it is of.
print-colon = :
print-contains = Enthält:
print-may-contain = Kann enthalten:
print-allergens-unknown = Ob diese Zutaten Allergene enthalten, ist nicht bekannt:
print-page = Seite { $page } von { $pages }
print-to = auf { $temperature }
print-ingredient = Zutat
print-batch = Teig Nr.
print-of-batches = von { $batches }
print-each-batch = jeder von { $batches } Teigen
print-per-batch = je Teig
print-once = einmal für alle Teige
print-once-of-day = Anteil dieses Teigs an einem Ansatz
print-feed = Auffrischung { $feed } von { $feeds }
print-fed = { $feeds }-mal aufgefrischt
print-total = Summe
print-total-formula = Gesamtrezept
print-dough = Teig
print-pieces = Stück
print-goes-on = weiterverwendet
print-kept-back = zurückgehalten
print-last-batch-sum = im letzten Teig
print-saved = aufgehoben
print-left-over = übrig
print-discarded = weggeworfen
print-aimed-at = Ziel
print-measured = gemessen
print-initials = Kürzel
print-step = Schritt
print-time = Zeit
print-temperature = Temperatur
print-done = erledigt
print-weight = Gewicht
print-percent = %
print-hydration = Hydration { $hydration } %
print-figures = Kennzahlen
print-figure = Kennzahl
print-value = Wert
print-style = Stil: { $style }
print-contents = Inhalt
print-index = Register
woven-proved = belegt
print-logo = Logo: { $house }
print-approximate = Raummaße sind nur ungefähr; es gilt das Gewicht.
print-card = Rezeptkarte
print-sheet = Backzettel
print-table = Tabelle
print-volumes = Raummaße
print-plan = Plan
print-ready = fertig { $date }, { $time }
print-begins = Beginn { $date }, { $time }
print-hands = Arbeitszeit
print-waiting = Wartezeit
print-cold = in der Kälte
print-oven = im Ofen
print-night = niemand da
print-at-night = Nacht
print-any-week = in jeder Woche
print-any-day = an jedem Tag
print-out = aus dem Ofen
print-folded = falten um { $times }
print-estimates = Schätzungen
print-zone = Zeitzone: { $zone }
print-timeline = Der Tag
print-takes = Dauer
print-to-do = zu tun
print-continued = Fortsetzung
print-water = Wasser
print-ice = Eis
print-fold = Falten
print-clock = Uhrzeit

## Booklets

booklet-people = Für { $people } Personen
booklet-learner = Für Lernende
booklet-teacher = Für Lehrende
booklet-glossary = Fachwörter
booklet-compare = Im Vergleich
booklet-compare-with = { $formula }: { $line }
booklet-since = seit { $revision }
booklet-bake-loss = Backverlust
booklet-baked = { $kind }: ein Stück, gebacken
booklet-nothing-changed = An diesen Zahlen hat sich seit { $revision } nichts geändert.
booklet-gives-up = Was dieses Mehl mehr hat, hat { $flour } weniger.
booklet-now = jetzt
booklet-objection = { $column }: { $finding }.
booklet-reckoner = Mengentabelle: { $formula }
booklet-percentages = Prozent vom Mehl
booklet-of-flour = vom Mehl
booklet-feeds = Anstellgut auffrischen
booklet-wanted = gewünscht
booklet-culture = Anstellgut
booklet-flour = Mehl
booklet-water = Wasser
booklet-yeast = Hefe
booklet-as-fresh = als Frischhefe
booklet-temperatures = Temperaturen
booklet-weights = Gramm und Unzen
booklet-volumes = Tassen und Löffel
booklet-teaspoons = { $shown } TL
booklet-tablespoons = { $shown } EL
booklet-cups = { $shown } Tasse
booklet-shopping = Einkauf
booklet-needed = benötigt
booklet-packs = Packungen
booklet-left = übrig
booklet-kept = { $culture } (vorhanden)
booklet-worksheet = { $formula }: Lücken füllen
booklet-rounded = Die Zahlen sind gerundet: Eine Antwort darf um einen Schritt der Waage oder um eins in der letzten Ziffer abweichen.
booklet-on-paper = Auf der Waage, damit die Spalten aufgehen, steht auf den anderen Blättern des Rezepts: { $list }.
booklet-key = Lösung: { $worksheet }
booklet-answers = Lösungen
booklet-workings = So ergibt sich jede Lücke
booklet-plan = Zeitplan: { $formula }
booklet-times-need-hands = Zu den fett gesetzten Zeiten wird jemand gebraucht.
booklet-all-flour = alles Mehl der Spalte
print-blank = auszufüllen
booklet-seat = Platz { $seat }
exercise-scale = eine andere Menge
exercise-scale-lead = Berechne, was fehlt, für { $yield }.
exercise-of-flour = { $weight } Mehl
exercise-of-stage = { $weight } { $stage }
exercise-true-hydration = Wie weich ist der Teig?
exercise-true-hydration-lead = Berechne die Hydration (Wasser geteilt durch Mehl): erst nur für das, was in den Teig selbst kommt, dann mit allem, was die Vorstufen mitbringen.
exercise-hydration-with-stages = Hydration mit den Vorstufen
exercise-wetter-lead = Gib danach so viel Wasser zu, dass die Hydration mit den Vorstufen die gewünschte ist.
exercise-wetter-wanted = gewünschte Hydration mit den Vorstufen
exercise-wetter-water = alles Wasser danach
exercise-wetter-more = zuzugebendes Wasser
exercise-wetter-added = im Teig zugegebenes Wasser danach
exercise-wetter-then = Hydration des zugegebenen Mehls danach
exercise-varied = Die Mengen sind nicht die des Rezepts, damit jeder Platz eigene hat.
exercise-water-added = im Teig zugegebenes Wasser
exercise-flour-added = im Teig zugegebenes Mehl
exercise-water-brought = Wasser aus den Vorstufen
exercise-flour-brought = Mehl aus den Vorstufen
exercise-substitute = ein anderes Mehl
exercise-substitute-lead = { $part } des Gesamtmehls werden ersetzt: bisher { $from }, jetzt { $to }; die Hydration bleibt gleich.
exercise-before = vorher
exercise-after = nachher
exercise-starter = womit auffrischen?
exercise-starter-lead = Gebraucht werden { $weight } { $stage }. Wie viel kommt wovon hinein?
exercise-starter-need = Gebraucht werden { $weight } { $stage }.
exercise-starter-sum = Runde so, dass die Teile genau das ergeben; welcher Teil den Rest bekommt, ist gleich.
exercise-adds-up = { $got }; gerundet, damit die Teile aufgehen: { $said }
exercise-water-temperature = Wassertemperatur
exercise-water-lead = Wie warm muss das Wasser sein?
exercise-water-count = Raum, Mehl und Vorstufen zählen je als eine Temperatur, und das Wasser auch. Nimm die Temperatur des Teigs so oft, wie es Temperaturen sind, und zieh alle außer der des Wassers und dazu die Reibung des Kneters ab.
exercise-water-last = Raum, Mehl und Vorstufen waren beim letzten Mal so warm wie jetzt.
exercise-water-mixed = Es wird aus heißem Wasser und Leitungswasser gemischt. Wie viel von jedem?
exercise-water-hot = Wasser über 45 °C (113 °F) tötet Hefe und Anstellgut, und heißes Wasser verbrüht: rechne es aus, aber nimm es nicht so. Raum oder Mehl müssen erst wärmer werden.
exercise-water-scalds = Heißes Wasser verbrüht: misch es mit dem Leitungswasser, bevor Mehl, Hefe oder Anstellgut hineinkommen.
exercise-when-to-begin = wann beginnen?
exercise-when-lead = Das Brot soll um { $time } fertig sein. Wann beginnt jeder Schritt?
exercise-when-stages = Eine Vorstufe muss fertig sein, wenn der Schritt beginnt, der nach ihrem Pfeil steht.
exercise-value = Wert
exercise-takes = Dauer
exercise-begins = Beginn
exercise-mistake = finde den Fehler
exercise-mistake-lead = Eine Menge in diesem Rezept ist falsch. Welche ist es, und wie müsste sie lauten?
exercise-mistake-tenfold = Sie ist zehnmal zu groß oder zehnmal zu klein.
exercise-mistake-swapped = In ihrer Prozentzahl sind die ersten beiden Ziffern vertauscht.
exercise-mistake-missing = Eine Zeile dieses Rezepts fehlt. Welche ist es, und wie viel müsste es sein?
exercise-mistake-dough = Wie viel der ganze Teig wiegt, steht darunter.
exercise-slip = der Fehler
exercise-right-weight = was richtig wäre
exercise-off-by = daneben um
exercise-off-by-piece = daneben um, je Stück
exercise-factor = Faktor
exercise-piece = Gewicht eines Stücks
exercise-piece-baked = Gewicht eines Stücks, gebacken
exercise-loss = Verlust im Ofen
exercise-all-percent = Summe der Prozente
exercise-all-flour = alles Mehl
exercise-all-water = alles Wasser
exercise-hydration-of-stage = { $stage }: Hydration
exercise-flour-of-stage = { $stage }: Mehl
exercise-both-of-stage = { $stage }: alles zusammen
exercise-exchanged = ausgetauscht, vom Gesamtmehl
exercise-starter-twice = Es wird zweimal im selben Verhältnis aufgefrischt; alles aus der ersten Auffrischung kommt in die zweite. Was kam in die erste?
exercise-feed-before = erste Auffrischung
exercise-fed-before = Mehl der ersten Auffrischung
exercise-last-time = { $what } beim letzten Mal
exercise-ready = fertig
finding-amount-doubtful = eine Menge, die kaum so gemeint ist
finding-bake-doubtful = zu wenig oder zu viel Hitze im Ofen
finding-batch-over-mixer = mehr Teig, als der Kneter fasst
finding-batch-under-mixer = zu wenig Teig für den Kneter
finding-below-scale-resolution = weniger, als die Waage anzeigen kann
finding-claim-refuted = eine Behauptung, die nicht stimmt
finding-composition-impossible = eine Zusammensetzung, die es nicht geben kann
finding-culture-doubtful = ein ungewöhnlich zusammengesetztes Anstellgut
finding-eaten-raw = etwas, das vielleicht roh gegessen wird
finding-flour-not-100 = Mehle, die nicht 100 % ergeben
finding-hardly-rises = zu wenig Triebmittel zum Aufgehen
finding-ice-too-much = mehr Eis als Wasser
finding-impossible-hydration = eine Hydration, die keinen Teig ergibt
finding-improver-high = zu viel Backmittel
finding-ingredient-added-twice = eine Zutat, die zweimal hineinkommt
finding-ingredient-never-added = eine Zutat, die in keinem Schritt hineinkommt
finding-liquids-unusual = ungewöhnlich viel oder wenig Flüssigkeit
finding-loss-doubtful = ein ungewöhnlicher Backverlust
finding-malt-high = zu viel Malz
finding-missing-salt = kein Salz
finding-more-than-there-is = mehr verbraucht, als da ist
finding-negative-weight = ein Gewicht unter null
finding-no-effect = eine Menge, die nichts ändert
finding-no-flour = kein Mehl
finding-no-leavening = nichts, was es aufgehen lässt
finding-no-liquid = keine Flüssigkeit
finding-no-seed-left = kein Anstellgut für das nächste Mal
finding-outside-style = außerhalb dessen, was der Stil zulässt
finding-oven-loads = mehrere Ofenfüllungen
finding-part-of-a-piece = ein Teil eines Stücks
finding-percent-or-grams = Prozent und Gramm verwechselt
finding-piece-doubtful = ein ungewöhnliches Stückgewicht
finding-prefermented-flour-high = zu viel vorfermentiertes Mehl
finding-ripening-doubtful = eine ungewöhnliche Reifezeit
finding-salt-as-eaten-high = zu viel Salz im fertigen Brot
finding-salt-high = zu viel Salz
finding-salt-low = zu wenig Salz
finding-salt-not-weighed = Salz, das niemand wiegt
finding-salt-yeast-swapped = Salz und Hefe verwechselt
finding-seed-share-doubtful = ein ungewöhnlicher Anteil Anstellgut
finding-sour-flour-high = zu viel versäuertes Mehl
finding-stage-not-ready = eine Vorstufe, die nicht rechtzeitig reif ist
finding-stage-overripe = eine überreife Vorstufe
finding-stage-takes-more-than-total = eine Vorstufe, die mehr nimmt, als da ist
finding-stands-too-warm = etwas, das zu lange warm steht
finding-temperature-doubtful = eine Temperatur, die kaum so gemeint ist
finding-time-doubtful = eine Zeit, die kaum so gemeint ist
finding-tin-fill = zu wenig oder zu viel für die Form
finding-water-too-hot = zu heißes Wasser
finding-yeast-high = zu viel Hefe
finding-yeast-killed = Hitze, die die Hefe abtötet
finding-yeast-kind-doubtful = eine Menge, die zu einer anderen Hefe passt
finding-yield-disagrees = eine Ausbeute, die nicht zu den Gewichten passt
finding-found = { $finding }: { $found }
finding-and-usual = { $finding }; üblich: { $range }
finding-and-allowed = { $finding }; zulässig: { $range }
finding-up-to = bis { $amount }
finding-or-more = ab { $amount }

# A production day: a batch or build among several of its kind, and a pair of hands.
day-batch = { $name } { $number } von { $of }
day-hands = Hände { $number }

# The lists of a production day.
print-day-plan = Tagesplan
print-day-mixing = Knetliste
print-day-levains = Vorteigliste
print-day-bench = Arbeitsliste
print-day-oven = Ofenliste
print-day-requisition = Entnahmeliste
print-day-labels = Teigetiketten
print-day-packing = Packliste
print-day-counter = Laden
print-day-product = Produkt
print-day-mixer = Kneter
print-day-size = Teig
print-day-hands-short = Hände
print-day-for = geht in
print-day-heat = Temperatur
print-day-out = heraus
print-day-by = bis
print-day-done = fertig
print-day-mixed = geknetet
print-day-latest = spätestens
print-day-packs = Packungen
print-day-short = fehlt
print-day-there = vorhanden, reif
print-day-left = übrig
print-day-unknown = Nicht bekannt, was enthalten ist in:
print-day-nothing = nichts zu tun
print-day-closed = niemand da
print-day-thaw = aus dem Froster um
print-day-missing = ohne Platz
print-day-on-hand = vorhanden
print-day-late = verspätet
print-day-by-hand = von Hand
print-day-to-weigh = abwiegen
print-day-store = aus dem Lager
