# The printed words, in Spanish.

## Numbers and times

at-least = al menos { $amount }
up-to = hasta { $amount }
approximately = ≈ { $amount }
# A list: all but the last, with commas between them, and the last. Before the sound of
# an i, "y" becomes "e".
list-end = { $last ->
    [hinojo] { $most } e { $last }
    [hidromiel] { $most } e { $last }
    [inulina] { $most } e { $last }
   *[other] { $most } y { $last }
}

## What the formula makes

makes-flour = para { $weight } de harina
makes-dough = { $weight } de masa
makes-from = { $made } a partir de { $weight } de { $name }
makes-left = sobran { $weight } de masa
serves = para { $people } personas
print-serves = Para { $people } personas
makes-pieces = { $count } { $kind } de { $weight }
# Kinds of piece, by the word in the formula.
piece-loaf = pan
piece-loaves = panes
piece-rolls = panecillos
piece-roll = panecillo
piece-baguettes = baguettes
piece-boules = hogazas
piece-batards = bâtards
piece-buns = bollos
piece-bagels = bagels
piece-pizzas = pizzas
piece-brioches = brioches
piece-croissants = cruasanes
piece-ciabatte = chapatas
piece-trays = bandejas
piece-tins = moldes
piece-pieces = piezas
piece-knots = nudos
piece-plaits = trenzas
piece-flatbreads = panes planos
piece-crispbreads = panes crujientes
piece-baguette = baguette
piece-boule = hogaza
piece-batard = bâtard
piece-bun = bollo
piece-bagel = bagel
piece-pizza = pizza
piece-brioche = brioche
piece-croissant = cruasán
piece-ciabatta = chapata
piece-tray = bandeja
piece-tin = molde
piece-piece = pieza
piece-knot = nudo
piece-plait = trenza
piece-flatbread = pan plano
piece-crispbread = pan crujiente
piece-ciabattas = chapatas

## The lines of a mix

last-batch = última amasada: { $weight }
more = hasta { $weight } más
less = hasta { $weight } menos
to-taste = al gusto
as-needed = según necesidad
pinch = una pizca
kept-back = se aparta
kept-back-from = se aparta (de: { $stage })
not-split = sin desglosar
the-rest = el resto
also-needed = Además
percent-of-its-flour = % sobre su harina
percent-of-its-grain = % sobre su grano
percent-of-its-seed = % sobre sus semillas
percent-of-its-grain-and-seed = % sobre su grano y sus semillas
percent-of-all-flour = % sobre la harina total
dough = Masa
cups = { $number ->
    [one] { $shown } taza
   *[other] { $shown } tazas
}
tablespoons = { $shown } cda.
teaspoons = { $shown } cdta.
scant = algo menos de { $amount }
generous = algo más de { $amount }
fluid-ounces = { $shown } fl oz
parts = { $number ->
    [one] { $shown } parte
   *[other] { $shown } partes
}

## Figures

figure-hydration = Hidratación
figure-true-hydration = Hidratación real
figure-hydration-of-added-flour = Hidratación sobre la harina añadida
figure-salt = Sal
figure-prefermented-flour = Harina prefermentada
figure-liquids = Líquidos
figure-effective-hydration = Hidratación efectiva
figure-sugar = Azúcar
figure-fat = Grasa
figure-yeast-as-fresh = Levadura, como fresca
figure-total-percentage = Suma de porcentajes
figure-dough-yield = Rendimiento en masa
figure-salt-as-eaten = Sal en el pan
figure-salt-as-declared = Sal declarada
figure-salt-in-other-ingredients = Sal en otros ingredientes
figure-flour = Harina
figure-dough = Masa
figure-elapsed = Duración total
figure-hands-on = Tiempo de trabajo
figure-of-all-flour = { $stage } sobre la harina total
figure-of-added-flour = { $stage } sobre la harina añadida
figure-of-dough = { $stage } sobre la masa

## Dates

weekday-1 = lunes
weekday-2 = martes
weekday-3 = miércoles
weekday-4 = jueves
weekday-5 = viernes
weekday-6 = sábado
weekday-7 = domingo
month-1 = enero
month-2 = febrero
month-3 = marzo
month-4 = abril
month-5 = mayo
month-6 = junio
month-7 = julio
month-8 = agosto
month-9 = septiembre
month-10 = octubre
month-11 = noviembre
month-12 = diciembre
date = { $weekday }, { $day } de { $month }
date-with-year = { $date } de { $year }
liquid-for = { $liquid } ({ $step })
water-by-factor = por la temperatura base
water-by-balance = por el balance de calor
water-next = 1 { $unit } de más: la próxima vez, agua { $degrees } { $unit } más fría; de menos: otro tanto más caliente.
water-together = El agua sola no basta: tendría que estar a { $alone }. Llevar todo lo nombrado aquí, junto, a la temperatura indicada al lado.
water-too-warm = Aun así la masa sale { $off } demasiado caliente: enfriar la harina, amasar menos o más despacio, o buscar una masa más caliente.
water-too-cold = Aun así la masa sale { $off } demasiado fría: calentar la harina o la sala, o buscar una masa más fría.
estimate-none = Ningún paso cambia por ello.
plan-beside = { $name } tiene su propio plan: hay que prepararlo a tiempo.
plan-no-hours = No se indican horas de vigilia: darlas con hours en el bloque bakehouse o con --awake 06:30..22:00.
plan-not-proven = No se buscó un plan mejor ajustado: este cumple todos los márgenes.
plan-clocks-back = Cambio de hora, { $date }: de las { $from } se vuelve a las { $to }. La hora se repite: A es antes del cambio, B después.
plan-clocks-forward = Cambio de hora, { $date }: de las { $from } se pasa a las { $to }. La noche es más corta.
plan-day-skipped = El calendario se salta un día: { $before }, y después { $after }.
plan-oven-twice = { $one } y { $two } están en el horno a la vez: { $date }, { $from }–{ $to }.
plan-oven-twice-named = { $one } y { $two } están a la vez en el horno { $machine }: { $date }, { $from }–{ $to }.
plan-mixer-twice = { $one } y { $two } necesitan a la vez la amasadora { $machine }: { $date }, { $from }–{ $to }.
plan-batch = { $step }, amasada { $first } de { $count }
plan-batch-all = { $step }, { $count } amasadas
plan-batches = En { $mixer } caben { $most }; los { $dough } de masa se hacen en { $count } amasadas de { $batch }, una tras otra: { $sum }. Las horas siguientes son las de la última; la primera va { $ahead } por delante.
plan-batches-untimed = En { $mixer } caben { $most }; los { $dough } de masa se hacen en { $count } amasadas de { $batch }, una tras otra. No se indica tiempo de amasado: el plan no cuenta ninguno.
plan-stirred = { $step }: mezclar
plan-load = { $step }, hornada { $first } de { $count }
plan-load-all = { $step }, { $count } hornadas
plan-loads = { $made }: { $count } hornadas en el horno { $oven }, una tras otra. La última entra { $ahead } después de la primera.
plan-loads-within = { $made }: { $count } hornadas en el horno { $oven }, una tras otra. La última espera { $ahead } más que la primera, aún dentro del tiempo de { $step }.
plan-loads-over = { $made }: { $count } hornadas en el horno { $oven }, una tras otra. La última espera { $ahead } más que la primera: así { $step } dura { $over } más que los { $most } indicados. Hornear menos piezas o guardar en frío las hornadas siguientes.
plan-batches-over = En la primera amasada { $step } dura { $over } más que los { $most } indicados.
plan-ready-early = Es { $early } antes de { $time }: ningún plan más tardío cabe en las horas indicadas.
plan-ready-nearest = Es { $early } antes de { $time }: de los planes posibles, es el más cercano a la mitad de los tiempos indicados. El más tardío posible: { $latest }.
plan-at-once = { $stage }: no se indica tiempo de reposo; se mezcla justo antes de usarse, y se cuentan { $time } de trabajo.
plan-built-once = { $stage } es igual para varias masas y se prepara una sola vez: { $amounts }.
plan-built-each = { $stage } es igual para varias masas, pero a horas demasiado separadas; cada masa lleva su propia preparación: { $times }.
plan-hands-twice = Un solo par de manos hace falta en varios sitios a la vez: { $date }, { $from }–{ $to } ({ $places }).
day-itself = el mismo día
day-before = el día anterior
days-before = { $days } días antes
day-after = el día siguiente
days-after = { $days } días después
day-number = día { $number }
estimate = { $step }: { $written } a { $at } se toman como { $now } a { $room }, según { $model }; conocido para { $range }
estimate-seed = { $step }: { $written } con { $at } % de masa madre se toman como { $now } con { $room } %, según { $model }; conocido para { $range }
estimate-course = { $estimate }; empieza a { $start }, y la diferencia se reduce a la mitad en { $time }
kept-culture = { $step } conserva el tiempo indicado: no se sabe cómo trabajan los cultivos por debajo de { $temperature }.
kept-no-temperature = { $step } conserva el tiempo indicado: no se conoce la temperatura.
kept-frozen = { $step } conserva el tiempo indicado: al empezar, todo está congelado.
room-temperature = temperatura ambiente
no-time-given = sin tiempo indicado
plan-untimed = { $step }: sin duración indicada; no cuenta como tiempo.
time-is-estimate = El tiempo es una estimación.
model-lactic-bacteria-growth = el crecimiento de las bacterias lácticas
model-sourdough-yeast-growth = el crecimiento de las levaduras de la masa madre
model-bakers-yeast-growth = el crecimiento de la levadura de panadería
model-yeast-gas = el gas de la levadura añadida

## Steps

step-feed = Refresco
step-build = Preparación
step-soak = Remojo
step-scald = Escaldado
step-autolyse = Autólisis
step-mix = Amasado
step-rest = Reposo
step-fold = Pliegues
step-bulk = Fermentación en bloque
step-divide = División
step-preshape = Preformado
step-shape = Formado
step-pan = Enmoldado
step-proof = Fermentación final
step-retard = Retardo en frío
step-chill = Refrigeración
step-freeze = Congelación
step-laminate = Laminado
step-fill = Relleno
step-top = Cobertura
step-glaze = Abrillantado
step-glaze-before-oven = Pintado
step-dust = Espolvoreado
step-wash = Pintado
step-boil = Hervido
step-steam = Cocción al vapor
step-fry = Fritura
step-score = Greñado
step-preheat = Precalentado
step-turn = Volteado
step-bake = Cocción
step-cool = Enfriado
step-slice = Rebanado
step-pack = Envasado
step-mature = Maduración
step-step = Paso
step-mix-again = Seguir amasando
# Verbs that stay as their author said them.
step-knead = Amasado
step-stir = Mezcla
step-whisk = Batido
step-beat = Batido
step-knock-back = Desgasificado
step-punch-down = Desgasificado
step-roll-out = Estirado con rodillo
step-plait = Trenzado
step-braid = Trenzado
step-brush = Pintado
step-sprinkle = Espolvoreado
step-ripen = Fermentación
step-stand = Reposo
step-keep = Conservación
# A step for one kind of piece: "Formado: panecillos".
step-for = { $step }: { $kind }
words-for = { $kind }: { $words }

## What is said at a step

build-ferment = Mezclar: { $names }. Tapar.
build-soaker = Mezclar removiendo: { $names }. Tapar.
build-scald = Verter el líquido hirviendo sobre el resto y remover: { $names }. Tapar.
use-within = Usar en un plazo de { $time }.
use-within-at = Usar en un plazo de { $time } a { $temperature }.
then-leave = Después, dejar reposar.
then-at = Después a { $temperature }.
then-cooler = Después, a menor temperatura.
then-warmer = Después, a mayor temperatura.
then-on = Después, seguir.
with = Con: { $names }.
the-flours = las harinas
share-of = { $name } ({ $share } %)
weight-of = { $name } ({ $weight })
weight-in-text = { $weight } de { $name }
rest-of = { $name } (el resto)
everything-else = todo lo demás
# Where nothing was named before.
everything = todos los ingredientes
# Where later steps name what they put in.
everything-but = todos los ingredientes menos: { $names }
in-place = En: { $place }.
in-machine = Máquina: { $place }.
place-fridge = En el frigorífico.
place-refrigerator = En el frigorífico.
place-cooler = En el frigorífico.
place-retarder = En la cámara de fermentación controlada.
place-walk-in = En la cámara frigorífica.
place-cold-room = En la cámara frigorífica.
place-proofer = En la cámara de fermentación.
place-prover = En la cámara de fermentación.
place-proof-box = En la cámara de fermentación.
place-proofing-box = En la cámara de fermentación.
place-proving-box = En la cámara de fermentación.
place-proving-drawer = En la cámara de fermentación.
place-cellar = En la bodega.
place-freezer = En el congelador.
place-oven = En el horno.
by-hand = a mano
speed = velocidad { $speed }
covered = tapado
uncovered = sin tapar
steamed = con vapor
vented = con el tiro abierto
fan = con ventilador
fold = { $times ->
    [1] Plegar una vez.
    [2] Plegar dos veces.
   *[other] Plegar { $times } veces.
}
fold-every = { $times ->
    [1] Plegar una vez.
    [2] Plegar dos veces, cada { $time }.
   *[other] Plegar { $times } veces, cada { $time }.
}
fold-single = { $times ->
    [1] Una vuelta sencilla.
   *[other] { $times } vueltas sencillas.
}
fold-single-every = { $times ->
    [1] Una vuelta sencilla.
   *[other] { $times } vueltas sencillas, cada { $time }.
}
fold-double = { $times ->
    [1] Una vuelta doble.
   *[other] { $times } vueltas dobles.
}
fold-double-every = { $times ->
    [1] Una vuelta doble.
   *[other] { $times } vueltas dobles, cada { $time }.
}
until-volume = { $times ->
    [2] Hasta que doble su volumen.
    [3] Hasta que triplique su volumen.
   *[other] Hasta alcanzar { $factor } veces su volumen.
}
until-core = Hasta { $temperature } en el centro.
until-acidity = Hasta pH { $value }.
# The author's words may be "que esté dorado" or "el día siguiente".
until = Hasta { $words }.

# How long a stage waits: "8–10 h a 22 °C, luego 12 h a 4 °C; se conserva 2 h".
wait-at = { $time } a { $temperature }
wait-then = { $first }, luego { $next }
wait-keeps = se conserva { $wait }
wait-and = { $first }; { $next }

## Cautions

# Each usual caution is left out where the author has spoken of it: where a caution of
# theirs has one of the words below it. `*` stands for any ending.
caution-oven = El horno, las cazuelas y el vapor queman: usar guantes secos y apartar la cara al abrir una puerta o una tapa.
caution-oven-words = horno, hornos, vapor, vapores, °c, °f, guante*, manopla*
caution-boiling = El líquido hirviendo escalda: verterlo lejos del cuerpo y no pasarlo por encima de nadie.
caution-boiling-words = herv*, hierv*, hirv*, ebullición, baño, baños, escald*, agua caliente
caution-fat = La grasa caliente se inflama: tener una tapa al alcance de la mano para sofocar el fuego y no echar nunca agua.
caution-fat-words = grasa, grasas, aceite*, manteca, freír, frei*, fríe*, frit*
caution-blade = Una cuchilla también corta los dedos: guardarla tapada.
caution-blade-words = cuchill*, cúter*, cuter*, navaja*, hoja de afeitar
caution-mixer = Manos y mangas fuera de la amasadora en marcha, y el resguardo siempre bajado.
caution-mixer-words = amasadora*, batidora*, resguardo*, gancho*
caution-raw = No probar harina, huevo ni masa crudos.
caution-raw-words = crudo, cruda, crudos, crudas
caution-warm = pasa { $time } al calor. Crecen bacterias, y algunas dejan toxinas que el horno no destruye: guardar en frío, o menos tiempo.
hurts-lye = Quema la piel, y los ojos para siempre: usar gafas, guantes y manga larga. La sosa se echa al agua fría, nunca el agua sobre la sosa. Nada de aluminio. En la piel o en un ojo: enjuagar 15 minutos con agua corriente y acudir al médico.
hurts-alum = No probar; más de una pizca hace daño: pesar en una balanza de precisión y guardar lejos de la sal y de la levadura química.
hurts-slaked-lime = Quema los ojos y la piel: usar gafas y guantes, y no levantar polvo. En la piel o en un ojo: enjuagar 15 minutos con agua corriente y acudir al médico.
hurts-ammonium-bicarbonate = Desprende amoníaco: no respirar los vapores, tampoco ante el horno abierto; solo para lo que es fino y se hornea hasta quedar seco.

## Words of the templates

print-summary = En total
print-method = Elaboración
print-ingredients = Ingredientes
print-weights = Pesos
print-steps = Pasos
print-baked = aprox. { $weight } tras la cocción
print-baked-alone = aprox. { $weight } tras la cocción, solo la masa
print-as-eaten = aprox. { $weight } con lo que lleva
print-of-dough = { $weight } de masa
print-of-dough-each = { $weight } de masa por pieza
print-in-tin = en molde «{ $tin }»
print-beside = Con cada pieza
print-beside-kind = Con cada pieza ({ $kind })
print-each = por pieza
print-in-all = en total
print-equipment = Equipo
print-storage = Conservación
print-notes = Notas
print-sources = Fuentes
print-take-care = Precaución.
# Between a word and what it is of.
print-colon = :
print-contains = Contiene:
print-may-contain = Puede contener:
print-allergens-unknown = No se sabe si contienen alérgenos:
print-page = página { $page } de { $pages }
print-to = hasta { $temperature }
print-ingredient = ingrediente
print-batch = amasada
print-of-batches = de { $batches }
print-each-batch = cada una de { $batches } amasadas
print-per-batch = por amasada
print-once = una sola vez
print-once-of-day = parte de esta masa, de una sola preparación
print-feed = refresco { $feed } de { $feeds }
print-fed = refrescos: { $feeds }
print-total = total
print-total-formula = Fórmula total
print-dough = masa
print-pieces = piezas
print-goes-on = se emplea
print-kept-back = se aparta
print-last-batch-sum = en la última amasada
print-saved = se guarda
print-left-over = sobra
print-discarded = se desecha
print-aimed-at = objetivo
print-measured = medición
print-initials = iniciales
print-step = paso
print-time = tiempo
print-temperature = temperatura
print-done = hecho
print-weight = peso
print-percent = %
print-hydration = hidratación { $hydration } %
print-figures = Parámetros
print-figure = parámetro
print-value = valor
print-style = estilo: { $style }
print-contents = Índice
print-index = Índice alfabético
woven-proved = comprobado
print-logo = Logotipo: { $house }
print-approximate = Los volúmenes son aproximados; los pesos son los que cuentan.
print-card = ficha
print-sheet = hoja de producción
print-table = tabla
print-volumes = Volúmenes
print-plan = Plan
print-ready = para el { $date }, { $time }
print-begins = comienzo { $date }, { $time }
print-hands = trabajo
print-waiting = espera
print-cold = en frío
print-oven = en el horno
print-night = nadie presente
print-at-night = noche
print-any-week = cualquier semana
print-any-day = cualquier día
print-out = salida del horno
print-folded = pliegues a las { $times }
print-estimates = Estimaciones
print-zone = zona horaria: { $zone }
print-timeline = El día
print-takes = duración
print-to-do = qué hacer
print-continued = continuación
print-water = agua
print-ice = hielo
print-fold = pliegue
print-clock = hora

## Booklets

booklet-people = Para { $people } personas
booklet-learner = Para el alumno
booklet-teacher = Para el docente
booklet-glossary = Glosario
booklet-compare = Comparación
booklet-compare-with = { $formula }: { $line }
booklet-since = desde { $revision }
booklet-bake-loss = merma de cocción
booklet-baked = { $kind }: una pieza cocida
booklet-nothing-changed = Nada de estas cifras ha cambiado desde { $revision }.
booklet-gives-up = Lo que esta harina gana lo cede { $flour }.
booklet-now = ahora
booklet-objection = { $column }: { $finding }.
booklet-reckoner = Tabla de cantidades: { $formula }
booklet-percentages = Porcentajes de la harina
booklet-of-flour = de la harina
booklet-feeds = Refrescar una masa madre
booklet-wanted = deseado
booklet-culture = masa madre
booklet-flour = harina
booklet-water = agua
booklet-yeast = Levadura
booklet-as-fresh = como fresca
booklet-temperatures = Temperaturas
booklet-weights = Gramos y onzas
booklet-volumes = Tazas y cucharas
booklet-teaspoons = { $shown } cdta.
booklet-tablespoons = { $shown } cda.
booklet-cups = { $shown } taza
booklet-shopping = Lista de la compra
booklet-needed = necesario
booklet-packs = paquetes
booklet-left = sobra
booklet-kept = { $culture } (disponible)
booklet-worksheet = { $formula }: rellenar los huecos
booklet-rounded = Los números están redondeados: una respuesta puede diferir en un paso de la balanza o en una unidad de la última cifra.
booklet-on-paper = En la balanza, para que las columnas cuadren, las demás páginas de la fórmula dan: { $list }.
booklet-key = Soluciones: { $worksheet }
booklet-answers = Soluciones
booklet-workings = Cómo se obtiene cada hueco
booklet-plan = { $formula }: el horario
booklet-times-need-hands = A las horas en negrita hace falta alguien.
booklet-all-flour = toda la harina de la columna
print-blank = por rellenar
booklet-seat = Puesto { $seat }
exercise-scale = otra cantidad
exercise-scale-lead = Calcula lo que falta para { $yield }.
exercise-of-flour = { $weight } de harina
exercise-of-stage = { $weight } de { $stage }
exercise-true-hydration = ¿qué hidratación?
exercise-true-hydration-lead = Calcula la hidratación de lo que entra en la masa misma, y luego con todo lo que aportan los prefermentos.
exercise-hydration-with-stages = Hidratación con los prefermentos
exercise-wetter-lead = Añade después agua hasta que la hidratación con los prefermentos sea la deseada.
exercise-wetter-wanted = Hidratación deseada con los prefermentos
exercise-wetter-water = toda el agua, después
exercise-wetter-more = agua que se añade
exercise-wetter-added = agua añadida en la masa, después
exercise-wetter-then = Hidratación de la harina añadida, después
exercise-varied = Las cantidades no son las de la fórmula, para que cada puesto tenga las suyas.
exercise-water-added = agua añadida en la masa
exercise-flour-added = harina añadida en la masa
exercise-water-brought = agua que aportan los prefermentos
exercise-flour-brought = harina que aportan los prefermentos
exercise-substitute = otra harina
exercise-substitute-lead = Se sustituye el { $part } del total de la harina: se quita { $from } y se pone otro tanto de { $to }; la hidratación no cambia.
exercise-before = antes
exercise-after = después
exercise-starter = ¿con qué refrescar?
exercise-starter-lead = Hacen falta { $weight } de { $stage }. ¿Cuánto entra de cada ingrediente?
exercise-starter-need = Se necesitan { $weight } de { $stage }.
exercise-starter-sum = Redondea de modo que las partes sumen exactamente eso; da igual qué parte se queda con el resto.
exercise-adds-up = { $got }; redondeado para que las partes cuadren: { $said }
exercise-water-temperature = temperatura del agua
exercise-water-lead = ¿A qué temperatura debe estar el agua?
exercise-water-count = El obrador, la harina y los prefermentos cuentan cada uno como una temperatura, y el agua también. Multiplica la temperatura de la masa por su número y réstale todas menos la del agua, y la fricción de la amasadora.
exercise-water-last = El obrador, la harina y los prefermentos estaban la última vez tan calientes como ahora.
exercise-water-mixed = Se mezcla con agua caliente y agua del grifo. ¿Cuánta de cada una?
exercise-water-hot = El agua a más de 45 °C (113 °F) mata la levadura y los cultivos, y el agua caliente quema: calcúlala, pero no la uses así. Que antes se calienten el obrador o la harina.
exercise-water-scalds = El agua caliente quema: mézclala con la del grifo antes de que entren harina, levadura o cultivo.
exercise-when-to-begin = ¿cuándo empezar?
exercise-when-lead = El pan debe estar listo a las { $time }. ¿Cuándo empieza cada paso?
exercise-when-stages = Un prefermento tiene que estar listo cuando empieza el paso que sigue a su flecha.
exercise-value = valor
exercise-takes = duración
exercise-begins = comienzo
exercise-mistake = busca el error
exercise-mistake-lead = Una cantidad de esta fórmula es errónea. ¿Cuál es y cuál debería ser?
exercise-mistake-tenfold = Es diez veces demasiado grande o diez veces demasiado pequeña.
exercise-mistake-swapped = En su porcentaje, las dos primeras cifras han cambiado de sitio.
exercise-mistake-missing = Falta una línea de esta fórmula. ¿Cuál es, y cuánto tendría que haber?
exercise-mistake-dough = El peso de toda la masa está abajo.
exercise-slip = el error
exercise-right-weight = lo correcto
exercise-off-by = diferencia
exercise-off-by-piece = diferencia por pieza
exercise-factor = factor
exercise-piece = peso de una pieza
exercise-piece-baked = peso de una pieza, cocida
exercise-loss = pérdida en el horno
exercise-all-percent = suma de porcentajes
exercise-all-flour = toda la harina
exercise-all-water = toda el agua
exercise-hydration-of-stage = { $stage }: hidratación
exercise-flour-of-stage = { $stage }: harina
exercise-both-of-stage = { $stage }: todo junto
exercise-exchanged = sustituido, sobre la harina total
exercise-starter-twice = Se refresca dos veces, en la misma proporción, y todo el primer refresco entra en el segundo. ¿Qué entró en el primero?
exercise-feed-before = primer refresco
exercise-fed-before = harina del primer refresco
exercise-last-time = { $what }, la última vez
exercise-ready = listo
finding-amount-doubtful = una cantidad que apenas puede ser la deseada
finding-bake-doubtful = demasiado o demasiado poco calor en el horno
finding-batch-over-mixer = más masa de la que cabe en la amasadora
finding-batch-under-mixer = muy poca masa para la amasadora
finding-below-scale-resolution = menos de lo que la balanza puede mostrar
finding-claim-refuted = una afirmación que no es cierta
finding-composition-impossible = una composición imposible
finding-culture-doubtful = un cultivo de composición poco habitual
finding-eaten-raw = algo que quizá se coma crudo
finding-flour-not-100 = harinas que no suman 100 %
finding-hardly-rises = muy poca levadura para subir
finding-ice-too-much = más hielo que agua
finding-impossible-hydration = una hidratación que no da masa
finding-improver-high = demasiado mejorante
finding-ingredient-added-twice = un ingrediente que se añade dos veces
finding-ingredient-never-added = un ingrediente que ningún paso añade
finding-liquids-unusual = una cantidad de líquido poco habitual
finding-loss-doubtful = una merma de cocción poco habitual
finding-malt-high = demasiada malta
finding-missing-salt = sin sal
finding-more-than-there-is = se usa más de lo que hay
finding-negative-weight = un peso negativo
finding-no-effect = una cantidad que no cambia nada
finding-no-flour = sin harina
finding-no-leavening = nada que la haga subir
finding-no-liquid = sin líquido
finding-no-seed-left = no queda cultivo para la próxima vez
finding-outside-style = fuera de lo que admite el estilo
finding-oven-loads = varias hornadas
finding-part-of-a-piece = una parte de una pieza
finding-percent-or-grams = por ciento y gramos confundidos
finding-piece-doubtful = un peso por pieza poco habitual
finding-prefermented-flour-high = demasiada harina prefermentada
finding-ripening-doubtful = un tiempo de maduración poco habitual
finding-salt-as-eaten-high = demasiada sal en el pan
finding-salt-high = demasiada sal
finding-salt-low = muy poca sal
finding-salt-not-weighed = sal que nadie pesa
finding-salt-yeast-swapped = sal y levadura confundidas
finding-seed-share-doubtful = una parte de cultivo poco habitual
finding-sour-flour-high = demasiada harina acidificada
finding-stage-not-ready = una etapa previa que no madura a tiempo
finding-stage-overripe = una etapa previa pasada de su punto
finding-stage-takes-more-than-total = una etapa previa que toma más de lo que hay
finding-stands-too-warm = algo que queda demasiado tiempo al calor
finding-temperature-doubtful = una temperatura que apenas puede ser la deseada
finding-time-doubtful = un tiempo que apenas puede ser el deseado
finding-tin-fill = demasiado o muy poco para el molde
finding-water-too-hot = agua demasiado caliente
finding-yeast-high = demasiada levadura
finding-yeast-killed = un calor que mata la levadura
finding-yeast-kind-doubtful = una cantidad propia de otra levadura
finding-yield-disagrees = un rendimiento que no cuadra con los pesos
finding-found = { $finding }: { $found }
finding-and-usual = { $finding }; lo habitual: { $range }
finding-and-allowed = { $finding }; lo admitido: { $range }
finding-up-to = hasta { $amount }
finding-or-more = { $amount } o más

# A production day: a batch or build among several of its kind, and a pair of hands.
day-batch = { $name } { $number } de { $of }
day-hands = manos { $number }

# The lists of a production day.
print-day-plan = Plan del día
print-day-mixing = Lista de amasado
print-day-levains = Lista de masas madre
print-day-bench = Lista de mesa
print-day-oven = Lista del horno
print-day-requisition = Salidas de almacén
print-day-labels = Etiquetas de las masas
print-day-packing = Lista de entrega
print-day-counter = Tienda
print-day-product = producto
print-day-mixer = amasadora
print-day-size = masa
print-day-hands-short = manos
print-day-for = va en
print-day-heat = temperatura
print-day-out = salida
print-day-by = antes de las
print-day-done = listo
print-day-mixed = amasado
print-day-latest = a más tardar
print-day-packs = paquetes
print-day-short = falta
print-day-there = disponible, maduro
print-day-left = sobra
print-day-unknown = No se sabe qué contiene:
print-day-nothing = nada que hacer
print-day-closed = nadie presente
print-day-thaw = sacar del congelador a las
print-day-missing = sin hueco
print-day-on-hand = disponible
print-day-late = con retraso
print-day-by-hand = a mano
print-day-to-weigh = a pesar
print-day-store = del almacén
