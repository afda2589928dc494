# The printed words, in Italian.

## Numbers and times

at-least = almeno { $amount }
up-to = fino a { $amount }
approximately = ≈ { $amount }
# A list: all but the last, with commas between them, and the last.
list-end = { $most } e { $last }

## What the formula makes

makes-flour = per { $weight } di farina
makes-dough = { $weight } di impasto
makes-from = { $made } da { $weight } di { $name }
makes-left = avanzano { $weight } di impasto
serves = per { $people } persone
print-serves = Per { $people } persone
makes-pieces = { $count } { $kind } da { $weight }
# Kinds of piece, by the word in the formula.
piece-loaf = pane
piece-loaves = pani
piece-rolls = panini
piece-roll = panino
piece-baguettes = baguette
piece-boules = pagnotte
piece-batards = filoni
piece-buns = panini morbidi
piece-bagels = bagel
piece-pizzas = pizze
piece-brioches = brioche
piece-croissants = croissant
piece-ciabatte = ciabatte
piece-trays = teglie
piece-tins = stampi
piece-pieces = pezzi
piece-knots = nodini
piece-plaits = trecce
piece-flatbreads = pani piatti
piece-crispbreads = pani croccanti
piece-baguette = baguette
piece-boule = pagnotta
piece-batard = filone
piece-bun = panino morbido
piece-bagel = bagel
piece-pizza = pizza
piece-brioche = brioche
piece-croissant = croissant
piece-ciabatta = ciabatta
piece-tray = teglia
piece-tin = stampo
piece-piece = pezzo
piece-knot = nodino
piece-plait = treccia
piece-flatbread = pane piatto
piece-crispbread = pane croccante
piece-ciabattas = ciabatte

## The lines of a mix

last-batch = ultima impastata: { $weight }
more = fino a { $weight } in più
less = fino a { $weight } in meno
to-taste = a piacere
as-needed = q.b.
pinch = un pizzico
kept-back = si tiene da parte
kept-back-from = si tiene da parte (da: { $stage })
not-split = senza scomporre
the-rest = il resto
also-needed = Serve anche
percent-of-its-flour = % sulla sua farina
percent-of-its-grain = % sui suoi chicchi
percent-of-its-seed = % sui suoi semi
percent-of-its-grain-and-seed = % sui suoi chicchi e semi
percent-of-all-flour = % sulla farina totale
dough = Impasto
cups = { $number ->
    [one] { $shown } tazza
   *[other] { $shown } tazze
}
tablespoons = { $shown } cucch.
teaspoons = { $shown } cucch. da tè
scant = poco meno di { $amount }
generous = poco più di { $amount }
fluid-ounces = { $shown } fl oz
parts = { $number ->
    [one] { $shown } parte
   *[other] { $shown } parti
}

## Figures

figure-hydration = Idratazione
figure-true-hydration = Idratazione reale
figure-hydration-of-added-flour = Idratazione sulla farina aggiunta
figure-salt = Sale
figure-prefermented-flour = Farina prefermentata
figure-liquids = Liquidi
figure-effective-hydration = Idratazione effettiva
figure-sugar = Zucchero
figure-fat = Grassi
figure-yeast-as-fresh = Lievito, come fresco
figure-total-percentage = Somma delle percentuali
figure-dough-yield = Resa in impasto
figure-salt-as-eaten = Sale nel pane
figure-salt-as-declared = Sale dichiarato
figure-salt-in-other-ingredients = Sale in altri ingredienti
figure-flour = Farina
figure-dough = Impasto
figure-elapsed = Durata totale
figure-hands-on = Tempo di lavoro
figure-of-all-flour = { $stage } sulla farina totale
figure-of-added-flour = { $stage } sulla farina aggiunta
figure-of-dough = { $stage } sull’impasto

## Dates

weekday-1 = lunedì
weekday-2 = martedì
weekday-3 = mercoledì
weekday-4 = giovedì
weekday-5 = venerdì
weekday-6 = sabato
weekday-7 = domenica
month-1 = gennaio
month-2 = febbraio
month-3 = marzo
month-4 = aprile
month-5 = maggio
month-6 = giugno
month-7 = luglio
month-8 = agosto
month-9 = settembre
month-10 = ottobre
month-11 = novembre
month-12 = dicembre
date = { $weekday } { $day } { $month }
date-with-year = { $date } { $year }
liquid-for = { $liquid } ({ $step })
water-by-factor = con il metodo dei fattori
water-by-balance = con il bilancio termico
water-next = 1 { $unit } in più: la prossima volta acqua { $degrees } { $unit } più fredda; in meno: altrettanto più calda.
water-together = L’acqua da sola non basta: dovrebbe essere a { $alone }. Portare insieme tutto ciò che è indicato qui alla temperatura scritta accanto.
water-too-warm = Anche così l’impasto esce { $off } troppo caldo: raffreddare la farina, impastare meno o più piano, o puntare a un impasto più caldo.
water-too-cold = Anche così l’impasto esce { $off } troppo freddo: scaldare la farina o la stanza, o puntare a un impasto più freddo.
estimate-none = Nessuna fase cambia per questo.
plan-beside = { $name } ha un piano proprio: va preparato per tempo.
plan-no-hours = Nessun orario di veglia indicato: indicarlo con hours nel blocco bakehouse o con --awake 06:30..22:00.
plan-not-proven = Non si è cercato un piano più aderente: questo rispetta tutti gli intervalli.
plan-clocks-back = Cambio dell’ora, { $date }: dalle { $from } si torna alle { $to }. L’ora si ripete: A è prima del cambio, B dopo.
plan-clocks-forward = Cambio dell’ora, { $date }: dalle { $from } si passa alle { $to }. La notte è più corta.
plan-day-skipped = Il calendario salta un giorno: { $before }, poi { $after }.
plan-oven-twice = { $one } e { $two } sono in forno allo stesso tempo: { $date }, { $from }–{ $to }.
plan-oven-twice-named = { $one } e { $two } sono allo stesso tempo nel forno { $machine }: { $date }, { $from }–{ $to }.
plan-mixer-twice = { $one } e { $two } richiedono allo stesso tempo l’impastatrice { $machine }: { $date }, { $from }–{ $to }.
plan-batch = { $step }, impastata { $first } di { $count }
plan-batch-all = { $step }, { $count } impastate
plan-batches = { $mixer } contiene { $most }; i { $dough } di impasto si lavorano in { $count } impastate da { $batch }, una dopo l’altra: { $sum }. Gli orari seguenti sono quelli dell’ultima; la prima è avanti di { $ahead }.
plan-batches-untimed = { $mixer } contiene { $most }; i { $dough } di impasto si lavorano in { $count } impastate da { $batch }, una dopo l’altra. Non è indicato un tempo di impastamento: il piano non ne conta.
plan-stirred = { $step }: mescolare
plan-load = { $step }, infornata { $first } di { $count }
plan-load-all = { $step }, { $count } infornate
plan-loads = { $made }: { $count } infornate nel forno { $oven }, una dopo l’altra. L’ultima va in forno { $ahead } dopo la prima.
plan-loads-within = { $made }: { $count } infornate nel forno { $oven }, una dopo l’altra. L’ultima aspetta { $ahead } più della prima, ancora nel tempo previsto per { $step }.
plan-loads-over = { $made }: { $count } infornate nel forno { $oven }, una dopo l’altra. L’ultima aspetta { $ahead } più della prima: così { $step } dura { $over } più dei { $most } indicati. Cuocere meno pezzi o tenere al freddo le infornate successive.
plan-batches-over = Per la prima impastata { $step } dura { $over } più dei { $most } indicati.
plan-ready-early = È { $early } prima di { $time }: nessun piano più tardo rientra negli orari indicati.
plan-ready-nearest = È { $early } prima di { $time }: tra i piani possibili è il più vicino alla metà dei tempi indicati. Il più tardo possibile: { $latest }.
plan-at-once = { $stage }: non è indicato un tempo di riposo; si mescola subito prima dell’uso, contando { $time } di lavoro.
plan-built-once = { $stage } è uguale per più impasti e si prepara una volta sola: { $amounts }.
plan-built-each = { $stage } è uguale per più impasti, ma a orari troppo lontani; ogni impasto ha la sua preparazione: { $times }.
plan-hands-twice = Un solo paio di mani serve in più posti nello stesso momento: { $date }, { $from }–{ $to } ({ $places }).
day-itself = il giorno stesso
day-before = il giorno prima
days-before = { $days } giorni prima
day-after = il giorno dopo
days-after = { $days } giorni dopo
day-number = giorno { $number }
estimate = { $step }: { $written } a { $at } si contano come { $now } a { $room }, secondo { $model }; noto per { $range }
estimate-seed = { $step }: { $written } con { $at } % di pasta madre si contano come { $now } con { $room } %, secondo { $model }; noto per { $range }
estimate-course = { $estimate }; parte da { $start }, e la differenza si dimezza in { $time }
kept-culture = { $step } mantiene il tempo indicato: non si sa come lavorino le colture sotto { $temperature }.
kept-no-temperature = { $step } mantiene il tempo indicato: la temperatura non è nota.
kept-frozen = { $step } mantiene il tempo indicato: all’inizio tutto è congelato.
room-temperature = temperatura ambiente
no-time-given = tempo non indicato
plan-untimed = { $step }: durata non indicata; non conta come tempo.
time-is-estimate = Il tempo è una stima.
model-lactic-bacteria-growth = la crescita dei batteri lattici
model-sourdough-yeast-growth = la crescita dei lieviti della pasta madre
model-bakers-yeast-growth = la crescita del lievito di birra
model-yeast-gas = il gas del lievito aggiunto

## Steps

step-feed = Rinfresco
step-build = Preparazione
step-soak = Ammollo
step-scald = Scottatura
step-autolyse = Autolisi
step-mix = Impastamento
step-rest = Riposo
step-fold = Pieghe
step-bulk = Puntata
step-divide = Spezzatura
step-preshape = Preforma
step-shape = Formatura
step-pan = Messa in stampo
step-proof = Appretto
step-retard = Maturazione in frigo
step-chill = Refrigerazione
step-freeze = Congelamento
step-laminate = Sfogliatura
step-fill = Farcitura
step-top = Guarnizione
step-glaze = Lucidatura
step-glaze-before-oven = Spennellatura
step-dust = Spolvero
step-wash = Spennellatura
step-boil = Bollitura
step-steam = Cottura a vapore
step-fry = Frittura
step-score = Incisione
step-preheat = Preriscaldamento
step-turn = Rivoltatura
step-bake = Cottura
step-cool = Raffreddamento
step-slice = Affettatura
step-pack = Confezionamento
step-mature = Maturazione dopo la cottura
step-step = Fase
step-mix-again = Ancora impastamento
# Verbs that stay as their author said them.
step-knead = Impastamento
step-stir = Mescolatura
step-whisk = Montatura
step-beat = Sbattitura
step-knock-back = Sgonfiatura
step-punch-down = Sgonfiatura
step-roll-out = Stesura
step-plait = Intreccio
step-braid = Intreccio
step-brush = Spennellatura
step-sprinkle = Spolveratura
step-ripen = Fermentazione
step-stand = Riposo
step-keep = Conservazione
# A step for one kind of piece: "Formatura: panini".
step-for = { $step }: { $kind }
words-for = { $kind }: { $words }

## What is said at a step

build-ferment = Mescolare: { $names }. Coprire.
build-soaker = Mescolare: { $names }. Coprire.
build-scald = Versare il liquido bollente sul resto e mescolare: { $names }. Coprire.
use-within = Usare entro { $time }.
use-within-at = Usare entro { $time } a { $temperature }.
then-leave = Poi lasciare riposare.
then-at = Poi a { $temperature }.
then-cooler = Poi a temperatura più bassa.
then-warmer = Poi a temperatura più alta.
then-on = Poi continuare.
with = Con: { $names }.
the-flours = le farine
share-of = { $name } ({ $share } %)
weight-of = { $name } ({ $weight })
weight-in-text = { $weight } di { $name }
rest-of = { $name } (il resto)
everything-else = tutto il resto
# Where nothing was named before.
everything = tutti gli ingredienti
# Where later steps name what they put in.
everything-but = tutti gli ingredienti tranne: { $names }
in-place = In: { $place }.
in-machine = Macchina: { $place }.
place-fridge = In frigorifero.
place-refrigerator = In frigorifero.
place-cooler = In frigorifero.
place-retarder = In cella di fermalievitazione.
place-walk-in = In cella frigorifera.
place-cold-room = In cella frigorifera.
place-proofer = In cella di lievitazione.
place-prover = In cella di lievitazione.
place-proof-box = In cella di lievitazione.
place-proofing-box = In cella di lievitazione.
place-proving-box = In cella di lievitazione.
place-proving-drawer = In cella di lievitazione.
place-cellar = In cantina.
place-freezer = In congelatore.
place-oven = In forno.
by-hand = a mano
speed = velocità { $speed }
covered = coperto
uncovered = scoperto
steamed = con vapore
vented = a valvola aperta
fan = ventilato
fold = { $times ->
    [1] Piegare una volta.
    [2] Piegare due volte.
   *[other] Piegare { $times } volte.
}
fold-every = { $times ->
    [1] Piegare una volta.
    [2] Piegare due volte, ogni { $time }.
   *[other] Piegare { $times } volte, ogni { $time }.
}
fold-single = { $times ->
    [1] Una piega a tre.
   *[other] { $times } pieghe a tre.
}
fold-single-every = { $times ->
    [1] Una piega a tre.
   *[other] { $times } pieghe a tre, ogni { $time }.
}
fold-double = { $times ->
    [1] Una piega a quattro.
   *[other] { $times } pieghe a quattro.
}
fold-double-every = { $times ->
    [1] Una piega a quattro.
   *[other] { $times } pieghe a quattro, ogni { $time }.
}
until-volume = { $times ->
    [2] Fino al raddoppio del volume.
    [3] Fino a triplicare il volume.
   *[other] Fino a { $factor } volte il volume iniziale.
}
until-core = Fino a { $temperature } al cuore.
until-acidity = Fino a pH { $value }.
# The author's words may be "doratura" or "che sia dorato".
until = Fino a { $words }.

# How long a stage waits: "8–10 h a 22 °C, poi 12 h a 4 °C; si conserva 2 h".
wait-at = { $time } a { $temperature }
wait-then = { $first }, poi { $next }
wait-keeps = si conserva { $wait }
wait-and = { $first }; { $next }

## Cautions

# Each usual caution is left out where the author has spoken of it: where a caution of
# theirs has one of the words below it. `*` stands for any ending.
caution-oven = Forno, pentole e vapore scottano: usare guanti asciutti e tenere lontano il viso quando si apre uno sportello o un coperchio.
caution-oven-words = forno, forni, vapor*, °c, °f, guanto, guanti, presin*
caution-boiling = Il liquido bollente ustiona: versarlo lontano dal corpo e non passarlo sopra nessuno.
caution-boiling-words = bollent*, bollir*, bollit*, bollor*, bolle, ebollizione, bagno, bagni, acqua calda
caution-fat = Il grasso caldo prende fuoco: tenere un coperchio a portata di mano per soffocare le fiamme, non usare mai acqua.
caution-fat-words = grasso, grassi, olio, oli, strutto, frigg*, fritt*
caution-blade = Una lama taglia anche le dita: tenerla coperta.
caution-blade-words = lama, lame, lamett*, coltell*, taglierin*, cutter
caution-mixer = Mani e maniche fuori dall’impastatrice in moto, e il riparo sempre abbassato.
caution-mixer-words = impastatric*, planetari*, riparo, ripari, gancio, ganci
caution-raw = Non assaggiare farina, uova e impasto crudi.
caution-raw-words = crudo, cruda, crudi, crude
caution-warm = resta al caldo per { $time }. I batteri vi si moltiplicano, e alcuni lasciano tossine che il forno non distrugge: tenere al fresco, o per meno tempo.
hurts-lye = Brucia la pelle, e gli occhi per sempre: usare occhiali, guanti e maniche lunghe. La soda va nell’acqua fredda, mai l’acqua sulla soda. Niente alluminio. Sulla pelle o in un occhio: sciacquare 15 minuti con acqua corrente, poi andare dal medico.
hurts-alum = Non assaggiare; più di un pizzico fa male: pesare su una bilancia di precisione e tenere lontano da sale e lievito chimico.
hurts-slaked-lime = Brucia occhi e pelle: usare occhiali e guanti, senza alzare polvere. Sulla pelle o in un occhio: sciacquare 15 minuti con acqua corrente, poi andare dal medico.
hurts-ammonium-bicarbonate = Libera ammoniaca: non respirarne i vapori, nemmeno davanti al forno aperto; solo per ciò che è sottile e cotto fino a essere asciutto.

## Words of the templates

print-summary = In totale
print-method = Procedimento
print-ingredients = Ingredienti
print-weights = Pesi
print-steps = Fasi
print-baked = circa { $weight } dopo la cottura
print-baked-alone = circa { $weight } dopo la cottura, solo l’impasto
print-as-eaten = circa { $weight } con ciò che porta
print-of-dough = { $weight } di impasto
print-of-dough-each = { $weight } di impasto al pezzo
print-in-tin = in stampo «{ $tin }»
print-beside = Con ogni pezzo
print-beside-kind = Con ogni pezzo ({ $kind })
print-each = al pezzo
print-in-all = in totale
print-equipment = Attrezzatura
print-storage = Conservazione
print-notes = Note
print-sources = Fonti
print-take-care = Attenzione.
# Between a word and what it is of.
print-colon = :
print-contains = Contiene:
print-may-contain = Può contenere:
print-allergens-unknown = Non si sa se contengano allergeni:
print-page = pagina { $page } di { $pages }
print-to = fino a { $temperature }
print-ingredient = ingrediente
print-batch = impastata
print-of-batches = di { $batches }
print-each-batch = ciascuna di { $batches } impastate
print-per-batch = per impastata
print-once = una volta sola
print-once-of-day = parte di questo impasto, da un’unica preparazione
print-feed = rinfresco { $feed } di { $feeds }
print-fed = rinfreschi: { $feeds }
print-total = totale
print-total-formula = Formula totale
print-dough = impasto
print-pieces = pezzi
print-goes-on = si usa
print-kept-back = si tiene da parte
print-last-batch-sum = nell’ultima impastata
print-saved = si conserva
print-left-over = avanza
print-discarded = si scarta
print-aimed-at = obiettivo
print-measured = misura
print-initials = sigla
print-step = fase
print-time = tempo
print-temperature = temperatura
print-done = fatto
print-weight = peso
print-percent = %
print-hydration = idratazione { $hydration } %
print-figures = Parametri
print-figure = parametro
print-value = valore
print-style = stile: { $style }
print-contents = Indice
print-index = Indice analitico
woven-proved = verificato
print-logo = Logo: { $house }
print-approximate = I volumi sono approssimativi; fanno fede i pesi.
print-card = scheda
print-sheet = foglio di lavorazione
print-table = tabella
print-volumes = Volumi
print-plan = Piano
print-ready = per { $date }, { $time }
print-begins = inizio { $date }, { $time }
print-hands = lavoro
print-waiting = attesa
print-cold = al freddo
print-oven = in forno
print-night = nessuno presente
print-at-night = notte
print-any-week = qualsiasi settimana
print-any-day = qualsiasi giorno
print-out = da sfornare
print-folded = pieghe alle { $times }
print-estimates = Stime
print-zone = fuso orario: { $zone }
print-timeline = La giornata
print-takes = durata
print-to-do = che cosa fare
print-continued = segue
print-water = acqua
print-ice = ghiaccio
print-fold = piega
print-clock = ora

## Booklets

booklet-people = Per { $people } persone
booklet-learner = Per l’allievo
booklet-teacher = Per l’insegnante
booklet-glossary = Glossario
booklet-compare = Confronto
booklet-compare-with = { $formula }: { $line }
booklet-since = da { $revision }
booklet-bake-loss = calo di cottura
booklet-baked = { $kind }: un pezzo cotto
booklet-nothing-changed = In questi numeri nulla è cambiato da { $revision }.
booklet-gives-up = Ciò che questa farina guadagna, lo cede { $flour }.
booklet-now = adesso
booklet-objection = { $column }: { $finding }.
booklet-reckoner = Prontuario: { $formula }
booklet-percentages = Percentuali della farina
booklet-of-flour = della farina
booklet-feeds = Rinfrescare una pasta madre
booklet-wanted = voluto
booklet-culture = pasta madre
booklet-flour = farina
booklet-water = acqua
booklet-yeast = Lievito
booklet-as-fresh = come fresco
booklet-temperatures = Temperature
booklet-weights = Grammi e once
booklet-volumes = Tazze e cucchiai
booklet-teaspoons = { $shown } cucchiaino
booklet-tablespoons = { $shown } cucchiaio
booklet-cups = { $shown } tazza
booklet-shopping = Lista della spesa
booklet-needed = serve
booklet-packs = confezioni
booklet-left = avanza
booklet-kept = { $culture } (disponibile)
booklet-worksheet = { $formula }: riempire gli spazi
booklet-rounded = I numeri sono arrotondati: una risposta può scostarsi di uno scatto della bilancia o di un’unità dell’ultima cifra.
booklet-on-paper = Alla bilancia, perché le colonne tornino, le altre pagine della formula riportano: { $list }.
booklet-key = Soluzioni: { $worksheet }
booklet-answers = Soluzioni
booklet-workings = Come si ricava ogni spazio
booklet-plan = { $formula }: gli orari
booklet-times-need-hands = Agli orari in grassetto serve qualcuno.
booklet-all-flour = tutta la farina della colonna
print-blank = da riempire
booklet-seat = Posto { $seat }
exercise-scale = un’altra quantità
exercise-scale-lead = Calcola ciò che manca, per { $yield }.
exercise-of-flour = { $weight } di farina
exercise-of-stage = { $weight } di { $stage }
exercise-true-hydration = quale idratazione?
exercise-true-hydration-lead = Calcola l’idratazione di ciò che entra nell’impasto stesso, poi con tutto ciò che portano i prefermenti.
exercise-hydration-with-stages = Idratazione con i prefermenti
exercise-wetter-lead = Aggiungi poi acqua finché l’idratazione con i prefermenti è quella voluta.
exercise-wetter-wanted = Idratazione voluta con i prefermenti
exercise-wetter-water = tutta l’acqua, poi
exercise-wetter-more = acqua da aggiungere
exercise-wetter-added = acqua aggiunta nell’impasto, poi
exercise-wetter-then = Idratazione della farina aggiunta, poi
exercise-varied = Le quantità non sono quelle della formula, perché ogni posto abbia le sue.
exercise-water-added = acqua aggiunta nell’impasto
exercise-flour-added = farina aggiunta nell’impasto
exercise-water-brought = acqua portata dai prefermenti
exercise-flour-brought = farina portata dai prefermenti
exercise-substitute = un’altra farina
exercise-substitute-lead = Si sostituisce il { $part } del totale della farina: si toglie { $from } e si mette altrettanto di { $to }; l’idratazione non cambia.
exercise-before = prima
exercise-after = dopo
exercise-starter = con che cosa rinfrescare?
exercise-starter-lead = Servono { $weight } di { $stage }. Quanto ci va di ogni ingrediente?
exercise-starter-need = Servono { $weight } di { $stage }.
exercise-starter-sum = Arrotonda in modo che le parti facciano esattamente quel peso; quale parte prende il resto non importa.
exercise-adds-up = { $got }; arrotondato perché le parti tornino: { $said }
exercise-water-temperature = temperatura dell’acqua
exercise-water-lead = Quanto deve essere calda l’acqua?
exercise-water-count = L’ambiente, la farina e i prefermenti contano ciascuno come una temperatura, e l’acqua anche. Moltiplica la temperatura dell’impasto per il loro numero, poi togli tutte tranne quella dell’acqua, e l’attrito dell’impastatrice.
exercise-water-last = Ambiente, farina e prefermenti erano l’ultima volta caldi come adesso.
exercise-water-mixed = Si mescola con acqua calda e acqua di rubinetto. Quanta di ciascuna?
exercise-water-hot = L’acqua oltre i 45 °C (113 °F) uccide il lievito e le colture, e l’acqua calda scotta: calcolala, ma non usarla così. Prima si scaldino l’ambiente o la farina.
exercise-water-scalds = L’acqua calda scotta: mescolala con quella di rubinetto prima che entrino farina, lievito o coltura.
exercise-when-to-begin = quando cominciare?
exercise-when-lead = Il pane deve essere pronto alle { $time }. Quando comincia ogni fase?
exercise-when-stages = Un prefermento dev’essere pronto quando comincia la fase indicata dopo la sua freccia.
exercise-value = valore
exercise-takes = durata
exercise-begins = inizio
exercise-mistake = trova l’errore
exercise-mistake-lead = Una quantità di questa formula è sbagliata. Qual è, e quale dovrebbe essere?
exercise-mistake-tenfold = È dieci volte troppo grande o dieci volte troppo piccola.
exercise-mistake-swapped = Nella sua percentuale le prime due cifre si sono scambiate di posto.
exercise-mistake-missing = In questa formula manca una riga. Quale, e quanto dovrebbe essercene?
exercise-mistake-dough = Il peso di tutto l’impasto sta sotto.
exercise-slip = l’errore
exercise-right-weight = ciò che sarebbe giusto
exercise-off-by = differenza
exercise-off-by-piece = differenza per pezzo
exercise-factor = fattore
exercise-piece = peso di un pezzo
exercise-piece-baked = peso di un pezzo, cotto
exercise-loss = perdita in forno
exercise-all-percent = somma delle percentuali
exercise-all-flour = tutta la farina
exercise-all-water = tutta l’acqua
exercise-hydration-of-stage = { $stage }: idratazione
exercise-flour-of-stage = { $stage }: farina
exercise-both-of-stage = { $stage }: tutto insieme
exercise-exchanged = sostituito, sulla farina totale
exercise-starter-twice = Si rinfresca due volte, nello stesso rapporto, e tutto il primo rinfresco entra nel secondo. Che cosa è entrato nel primo?
exercise-feed-before = il primo rinfresco
exercise-fed-before = farina del primo rinfresco
exercise-last-time = { $what }, l’ultima volta
exercise-ready = pronto
finding-amount-doubtful = una quantità che difficilmente è voluta
finding-bake-doubtful = troppo o troppo poco calore in forno
finding-batch-over-mixer = più impasto di quanto l’impastatrice contenga
finding-batch-under-mixer = troppo poco impasto per l’impastatrice
finding-below-scale-resolution = meno di quanto la bilancia possa mostrare
finding-claim-refuted = un’affermazione che non è vera
finding-composition-impossible = una composizione impossibile
finding-culture-doubtful = una coltura di composizione insolita
finding-eaten-raw = qualcosa che forse si mangia crudo
finding-flour-not-100 = farine che non fanno 100 %
finding-hardly-rises = troppo poco lievito per crescere
finding-ice-too-much = più ghiaccio che acqua
finding-impossible-hydration = un’idratazione che non dà un impasto
finding-improver-high = troppo miglioratore
finding-ingredient-added-twice = un ingrediente aggiunto due volte
finding-ingredient-never-added = un ingrediente che nessun passaggio aggiunge
finding-liquids-unusual = una quantità di liquidi insolita
finding-loss-doubtful = un calo di cottura insolito
finding-malt-high = troppo malto
finding-missing-salt = niente sale
finding-more-than-there-is = si usa più di quanto c’è
finding-negative-weight = un peso negativo
finding-no-effect = una quantità che non cambia nulla
finding-no-flour = niente farina
finding-no-leavening = niente che la faccia crescere
finding-no-liquid = niente liquidi
finding-no-seed-left = niente coltura per la prossima volta
finding-outside-style = fuori da ciò che lo stile ammette
finding-oven-loads = più infornate
finding-part-of-a-piece = una parte di un pezzo
finding-percent-or-grams = percento e grammi scambiati
finding-piece-doubtful = un peso insolito del pezzo
finding-prefermented-flour-high = troppa farina prefermentata
finding-ripening-doubtful = un tempo di maturazione insolito
finding-salt-as-eaten-high = troppo sale nel pane
finding-salt-high = troppo sale
finding-salt-low = troppo poco sale
finding-salt-not-weighed = sale che nessuno pesa
finding-salt-yeast-swapped = sale e lievito scambiati
finding-seed-share-doubtful = una parte di coltura insolita
finding-sour-flour-high = troppa farina acidificata
finding-stage-not-ready = una fase preliminare che non matura in tempo
finding-stage-overripe = una fase preliminare troppo matura
finding-stage-takes-more-than-total = una fase preliminare che prende più di quanto c’è
finding-stands-too-warm = qualcosa che resta troppo a lungo al caldo
finding-temperature-doubtful = una temperatura che difficilmente è voluta
finding-time-doubtful = un tempo che difficilmente è voluto
finding-tin-fill = troppo o troppo poco per lo stampo
finding-water-too-hot = acqua troppo calda
finding-yeast-high = troppo lievito
finding-yeast-killed = un calore che uccide il lievito
finding-yeast-kind-doubtful = una quantità adatta a un altro lievito
finding-yield-disagrees = una resa che non torna con i pesi
finding-found = { $finding }: { $found }
finding-and-usual = { $finding }; di solito: { $range }
finding-and-allowed = { $finding }; ammesso: { $range }
finding-up-to = fino a { $amount }
finding-or-more = { $amount } o più

# A production day: a batch or build among several of its kind, and a pair of hands.
day-batch = { $name } { $number } di { $of }
day-hands = mani { $number }

# The lists of a production day.
print-day-plan = Piano del giorno
print-day-mixing = Lista degli impasti
print-day-levains = Lista dei prefermenti
print-day-bench = Lista del banco
print-day-oven = Lista del forno
print-day-requisition = Prelievi dal magazzino
print-day-labels = Etichette degli impasti
print-day-packing = Lista di consegna
print-day-counter = Negozio
print-day-product = prodotto
print-day-mixer = impastatrice
print-day-size = impasto
print-day-hands-short = mani
print-day-for = va in
print-day-heat = temperatura
print-day-out = uscita
print-day-by = entro
print-day-done = pronto
print-day-mixed = impastato
print-day-latest = al più tardi
print-day-packs = confezioni
print-day-short = manca
print-day-there = disponibile, maturo
print-day-left = avanza
print-day-unknown = Contenuto non noto:
print-day-nothing = niente da fare
print-day-closed = nessuno presente
print-day-thaw = fuori dal congelatore alle
print-day-missing = senza posto
print-day-on-hand = disponibile
print-day-late = in ritardo
print-day-by-hand = a mano
print-day-to-weigh = da pesare
print-day-store = dal magazzino
