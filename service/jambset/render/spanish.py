"""Spanish: the sentences by code, and the catalogue's own words by their English. Trade terms as used on job sites.

Written for carpenters and floor layers in the United States and northern Mexico, who are addressed as usted. To be
reviewed by a native speaker of the trade before anybody relies on it. One term stands for one thing, in all tables:

    jamb leg                jamba: jamba de bisagras, jamba de cerradura; its foot, pie
    head (of the frame)     cabezal del marco, at least where it stands alone: many call the header cabezal
    header                  dintel
    rough opening           vano en bruto
    leaf                    hoja; its bottom, borde inferior; another edge, canto
    stop                    tope
    casing                  chambrana; contramarco is a subframe to some
    shim                    cuña
    block (under a leg)     calza
    gauge block             taco de medida
    undercut (of a unit)    rebaje inferior
    undercut (of a leg)     corte inferior, for a floor to go under; what is cut off a leg or leaf is recorte
    pull side               lado de jalar
    push side               lado de empujar
    doorway                 paso de la puerta
    gap, clearance          holgura
    hollow-core             núcleo hueco
    solid-core              núcleo macizo
    bottom rail             travesaño inferior
    set, setting            colocar, colocación
    wish                    preferencia
    change in level         cambio de nivel; a step between finishes, desnivel
    threshold               umbral
    sill (of a fire door)   umbral (sill); solera is the plate of a wall
    bevel                   bisel
    reducer                 reductor
    transition piece        pieza de transición
    subfloor                subpiso
    underlayment            capa base
    cushion                 bajoalfombra
    pad                     almohadilla
    plank                   tabla; a strip of solid wood, duela
    labelled                con etiqueta
    listing                 certificación; the certificate of a door in England, certificado
    authority               autoridad competente
    damper                  compuerta
    fuel-burning appliance  aparato que quema combustible
"""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "quote": "{text}",
    "notice": (
        "Consejo, no permiso: deciden el código local tal como se adoptó, la certificación de la propia puerta y el "
        "ejercicio profesional con licencia. {adoption}"
    ),
    # measures
    "measure.about": "aprox. {text}",
    "measure.level": "a nivel",
    # summary
    "summary.go": "{setting} {leaf}",
    "summary.go_with_trim": "{setting} {leaf}",
    "summary.go.beside": "{setting} {leaf} Por preguntar, al lado de la puerta: {first}",
    "summary.go_with_trim.beside": "{setting} {leaf} Por preguntar, al lado de la puerta: {first}",
    "summary.hold.leaf.setting": (
        "No coloque el marco ni corte la hoja todavía. {first} Tal como están las cosas: {setting} {leaf}"
    ),
    "summary.hold.leaf": "No corte la hoja todavía. {first} Tal como están las cosas: {setting} {leaf}",
    "summary.hold.setting": "No coloque el marco todavía. {first} Tal como están las cosas: {setting} {leaf}",
    "summary.hold.beside": "{setting} {leaf} Por decidir, al lado de la puerta: {first}",
    "summary.conflict.leaf.setting": (
        "No coloque ni corte nada todavía. {first} Lo más cerca que se puede llegar: {setting} {leaf}"
    ),
    "summary.conflict.leaf": "No corte la hoja todavía. {first} Lo más cerca que se puede llegar: {setting} {leaf}",
    "summary.conflict.setting": (
        "No coloque el marco todavía. {first} Lo más cerca que se puede llegar: {setting} {leaf}"
    ),
    "summary.conflict.beside": "{setting} {leaf} Por decidir, al lado de la puerta: {first}",
    "waits.first": "La primera de {count} cosas: {first}",
    "set.stand": "Apoye ambas jambas en el subpiso.",
    "set.stand.as_set": "El marco, tal como está colocado, tiene las jambas en el subpiso.",
    "set.block": "Apoye ambas jambas en calzas de {height}.",
    "set.block.as_set": "El marco, tal como está colocado, tiene las jambas a {height} sobre el subpiso.",
    "set.cut": "Corte {height} de ambas jambas: la unidad queda demasiado alta para estos pisos.",
    "set.cut.head_line": "Corte {height} de ambas jambas, para que su cabezal mantenga la línea de cabezales.",
    "set.cut.as_set": (
        "El marco, tal como está colocado, queda demasiado alto: sus jambas tendrían que ser {height} más cortas."
    ),
    "set.cut.low_header": "Corte {height} de ambas jambas; el dintel es demasiado bajo para ellas.",
    "set.ordered": "Pida la unidad con {undercut} de rebaje inferior. {setting}",
    "set.ordered.low_header": (
        "Haga subir el dintel y pida la unidad con {undercut} de rebaje inferior; el dintel actual deja entrar "
        "{present} y no más, y con eso: {setting}"
    ),
    "set.ordered.lost": (
        "No pida ninguna todavía: el dintel actual deja entrar {present} de rebaje inferior y no más, y con {undercut} "
        "no se cumpliría otra regla. Con ese dintel: {setting}"
    ),
    "set.taken": "Se toma así hasta que se mida: {setting}",
    "set.listed": "Solo si la certificación del marco con etiqueta lo permite: {setting}",
    "set.uneven": "Fuera de nivel: {one}, {other}.",
    "set.uneven.as_set": "El subpiso está fuera de nivel; tal como está colocado el marco, {one}, {other}.",
    "set.uneven.low_header": "Fuera de nivel bajo un dintel demasiado bajo: {one}, {other}.",
    "leg.stand": "apoye la {leg} en el subpiso",
    "leg.stand.as_set": "la {leg} está apoyada en el subpiso",
    "leg.block.as_set": "la {leg} está {height} por encima del subpiso que tiene debajo",
    "leg.cut.as_set": "la {leg} quedaría {height} más corta",
    "leg.block": "ponga la {leg} sobre una calza de {height}",
    "leg.cut": "corte {height} de la {leg}",
    "leg.hinge": "jamba de bisagras",
    "leg.strike": "jamba de cerradura",
    "leg.first_hinge": "primera jamba de bisagras",
    "leg.second_hinge": "segunda jamba de bisagras",
    "leaves.one": "la hoja",
    "leaves.each": "cada hoja",
    "cut.none": "Deje {leaves} sin cortar; su borde inferior queda a {bottom} sobre {subfloor}.",
    "cut.before_hanging": (
        "Corte {trim} de {leaves} en el banco, antes de colgar; el borde inferior queda a {bottom} sobre {subfloor}."
    ),
    "cut.before_floor": (
        "Corte {trim} de {leaves}, ya colgada, antes de instalar los pisos; el borde inferior queda a {bottom} sobre "
        "{subfloor}."
    ),
    "cut.after_floor": (
        "Deje {leaves} larga por ahora; lo que haya que cortar se corta cuando los pisos estén instalados."
    ),
    "cut.now_and_later": (
        "Corte {trim} de {leaves} en el banco, que es lo que piden todos los pisos que pueden venir, y el resto cuando "
        "estén instalados."
    ),
    "cut.listed": (
        "Si la certificación de la puerta lo permite, corte {trim} de {leaves}; el borde inferior queda a {bottom} "
        "sobre {subfloor}."
    ),
    "cut.below": "La hoja quedaría {below} por debajo del subpiso: no puede colgarse aquí con este dintel.",
    "cut.unknown": (
        "Deje el borde inferior de la hoja a {bottom} sobre {subfloor}; cuánto se corta para eso no se sabe hasta "
        "conocer el rebaje inferior."
    ),
    # order, leaf
    "order.undecided": "Un piso está sin decidir: haga el pedido cuando se conozcan los dos.",
    "order.wanted": (
        "Una unidad con {undercut} de rebaje inferior, con las jambas en el subpiso, deja {leaves} sin cortar sobre "
        "los dos pisos indicados."
    ),
    "order.lined": "Una unidad con {undercut} de rebaje inferior mantiene la línea de cabezales.",
    "order.weighed": (
        "Una unidad con {undercut} de rebaje inferior es la que menos trabajo da, contando todos los pisos que pueden "
        "venir."
    ),
    "order.short": (
        "Una unidad con {undercut} de rebaje inferior deja {leaves} sin cortar sobre estos pisos y necesita un vano en "
        "bruto de {hole}."
    ),
    "order.tight": (
        "Una unidad con {undercut} de rebaje inferior deja {leaves} sin cortar sobre estos pisos y entra bajo el "
        "dintel actual, con {room} para cuñas; un vano en bruto de {hole} daría el espacio que se desea."
    ),
    "order.tight.weighed": (
        "Una unidad con {undercut} de rebaje inferior es la que menos trabajo da, contando todos los pisos que pueden "
        "venir, y entra bajo el dintel actual, con {room} para cuñas; un vano en bruto de {hole} daría el espacio que "
        "se desea."
    ),
    "order.lower": (
        "Una unidad con {undercut} de rebaje inferior deja {leaves} sin cortar sobre estos pisos y necesita un vano en "
        "bruto de {hole}; el dintel actual deja entrar una con {present} y no más. Que responda el carpintero de "
        "estructura antes de pedirla."
    ),
    "order.short.weighed": (
        "Una unidad con {undercut} de rebaje inferior es la que menos trabajo da, contando todos los pisos que pueden "
        "venir, y necesita un vano en bruto de {hole}."
    ),
    "order.lower.weighed": (
        "Una unidad con {undercut} de rebaje inferior es la que menos trabajo da, contando todos los pisos que pueden "
        "venir, y necesita un vano en bruto de {hole}; el dintel actual deja entrar una con {present} y no más. Que "
        "responda el carpintero de estructura antes de pedirla."
    ),
    "order.lost": (
        "Una unidad con {undercut} de rebaje inferior, con las jambas en el subpiso, dejaría {leaves} sin cortar, y "
        "aun así no se cumplirían algunas reglas: vea los conflictos antes de pedir ninguna."
    ),
    "order.on_line": (
        "Las reglas no se cumplen por la línea de cabezales, no por el rebaje inferior de {present} de esta unidad: "
        "vea los conflictos. Una con {undercut}, por sí sola sobre el subpiso, dejaría {leaves} sin cortar."
    ),
    "order.lacks": (
        "Con {present} de rebaje inferior, esta unidad no cumple algunas reglas, vea los conflictos; una con "
        "{undercut}, con las jambas en el subpiso, dejaría {leaves} sin cortar."
    ),
    "order.sawn": (
        "Esta unidad tiene {present} de rebaje inferior; una con {undercut}, con las jambas en el subpiso, dejaría "
        "{leaves} sin cortar."
    ),
    "order.shortened": (
        "Esta unidad tiene {present} de rebaje inferior; una con {undercut} dejaría sin cortar las jambas y {leaves}."
    ),
    "order.blocked": (
        "Con {present} de rebaje inferior, esta unidad sirve; una con {undercut} podría apoyarse en el subpiso, sin "
        "cortar la hoja."
    ),
    "order.open": (
        "Con {present} de rebaje inferior, esta unidad sirve y deja más holgura que la deseada; una con {undercut} "
        "dejaría menos."
    ),
    "order.will_do": "Con {present} de rebaje inferior, esta unidad sirve; no hace falta pedir otra cosa.",
    "leaf.uncut": "Tal como quedan las jambas, el rebaje inferior pone el borde inferior a {bottom} sobre {subfloor}.",
    "leaf.before_hanging.bench": (
        "Corte {trim} en el banco antes de colgar: se conocen los dos pisos y la unidad no está colocada."
    ),
    "leaf.before_floor.in_place": (
        "Corte {trim} con {leaves} colgada, abierta y sujeta; los tacos de medida marcan la línea para el riel guía."
    ),
    "leaf.before_floor.off_hinges": (
        "Marque {trim} desde los tacos de medida y luego saque {leaves} de sus bisagras para cortarla: abajo no cabe "
        "una sierra."
    ),
    "leaf.after_floor.in_place": (
        "Un piso no es definitivo: deje {leaves} larga. Con los dos instalados, y si todavía hay que cortar {trim}, "
        "córtela colgada, abierta y sujeta."
    ),
    "leaf.after_floor.off_hinges": (
        "Un piso no es definitivo: deje {leaves} larga. Con los dos instalados, y si todavía hay que cortar {trim}, "
        "márquela desde los tacos de medida y sáquela de sus bisagras: abajo no cabe una sierra."
    ),
    "leaf.now": (
        "Corte {trim} en el banco antes de colgar: lo piden todos los pisos que pueden venir, y ninguno pide más."
    ),
    "leaf.now_at_least": (
        "Corte {trim} en el banco antes de colgar: lo piden todos los pisos que pueden venir, y algunos piden más."
    ),
    "leaf.now_and_later": (
        "Corte {trim} en el banco antes de colgar: lo piden todos los pisos que pueden venir. El resto espera a los "
        "pisos."
    ),
    "leaf.listed": (
        "Corte {trim} solo si la certificación de esta hoja con etiqueta lo permite; solo con este consejo no se "
        "recorta."
    ),
    "leaf.after_floor": "Un piso está sin decidir: deje {leaves} larga y córtela después del piso.",
    "leaf.left_whole": (
        "O deje {leaves} sin cortar, con las jambas {stands}: el borde inferior queda a {bottom} sobre {subfloor}, y "
        "solo se renuncia a {wishes}."
    ),
    "leaf.unknown": "No se puede decir cuánto hay que cortar antes de medir el rebaje inferior.",
    # floors that may change
    "outlook.foot": "Jambas {stands}: {cost} {cut}",
    "outlook.set": "La unidad está colocada, con las jambas {stands}: {cost} {cut}",
    "outlook.ordered": "Pida {undercut} de rebaje inferior: {cost} {cut}",
    "outlook.let_in": "Bajo el dintel actual, {undercut} de rebaje inferior: {cost} {cut}",
    "outlook.work": "{work} de trabajo esperado, el mínimo de todas las opciones.",
    "outlook.work.shared": (
        "{work} de trabajo esperado, por lo que comparte la casa; por sí solo, este vano saldría en {least}."
    ),
    "outlook.counted": (
        "{work} de trabajo esperado, {minutes} contando a su precio cada preferencia a la que se renuncia, el mínimo "
        "de todas las opciones."
    ),
    "outlook.counted.shared": (
        "{work} de trabajo esperado, {minutes} contando a su precio cada preferencia a la que se renuncia, por lo que "
        "comparte la casa; por sí solo, este vano saldría en {least}."
    ),
    "outlook.trim_now": "Corte {trim} de {leaves} ahora: lo piden todos los pisos que pueden venir.",
    "outlook.long": "Deje {leaves} sin cortar hasta que los pisos sean definitivos.",
    "part.stands.on": "en el subpiso",
    "part.stands.above": "a {height} sobre el subpiso más alto debajo de ellas",
    "part.stands.cut": "recortadas {height} en total de su largo de fábrica",
    "listed_only": "Solo si la certificación de una hoja con etiqueta lo permite: {text}",
    "part.floor_at": "{floor} ({marks})",
    "part.floor_thick": "{title}, {height} en total",
    "part.floor_floating": "{floor}, piso flotante",
    "part.floor_glued": "{floor}, piso pegado",
    "part.floor_heated": "{floor}, piso con calefacción",
    "part.floor_top": "{floor}, la capa de arriba de {height}",
    "part.floor_on": "{floor}, sobre {height} de capa o panel",
    "part.floor_between": "{floor}, de {least} a {greatest}",
    "part.quoted": "“{text}”",
    "part.missed_by": "“{text}”, por {amount}",
    "part.pull": "jalar",
    "part.push": "empujar",
    "part.at_side": "{mark}, lado de {side}",
    "part.exact": "medidas exactas",
    "part.floors_and": "{first}; {then}",
    "tip.above": "Si {place} la probabilidad de este piso ({floor}) fuera mayor que {weight}, {then}",
    "tip.below": "Si {place} la probabilidad de este piso ({floor}) fuera menor que {weight}, {then}",
    "tip.legs": "lo mejor sería tener las jambas {stands}.",
    "tip.undercut": "lo mejor sería un rebaje inferior de {undercut}.",
    "outcome.and": "{first} {then}",
    "outcome.nothing": "No queda nada por hacer.",
    "outcome.again": "Saque la unidad y vuelva a colocarla, con las jambas {stands}.",
    "outcome.exchange": "Cambie la unidad por una con {height} de rebaje inferior.",
    "outcome.trim.bench": "Corte {trim} de {leaves} mientras la unidad está fuera.",
    "outcome.trim.in_place": "Corte {trim} de {leaves}, colgada, en su lugar.",
    "outcome.trim.off_hinges": "Corte {trim} de {leaves}, sacada de sus bisagras.",
    "outcome.filled": (
        "Las jambas terminan {shows} demasiado altas para que el piso las tape: ajuste suplementos trazados debajo de "
        "ellas."
    ),
    "outcome.covered": "Las jambas terminan {shows} demasiado altas para que el piso las tape: rodéelas con la pieza.",
    "outcome.shows": (
        "Las jambas terminan {shows} demasiado altas para que el piso las tape, como quedarían en el mejor de los "
        "casos."
    ),
    "outcome.lower": (
        "Las jambas terminarían {shows} demasiado altas para que el piso las tape: colóquelas más abajo si para "
        "entonces se conoce este piso; si no, ajuste suplementos trazados debajo de ellas, que aquí no se cuentan."
    ),
    "outcome.wishes": "Se renuncia a: {rules}.",
    "outcome.missed": "No se cumple con ninguna colocación: {rules}.",
    "outcome.ramp_needed": (
        "El cambio de nivel es entonces de {drop} y necesita una rampa de al menos {run} de largo: pregunte antes."
    ),
    "outcome.ramp_built": (
        "Los dos acabados quedan entonces a {step}, más de lo que salva una pieza comprada: pregunte antes."
    ),
    "outcome.little_air": "Pasa muy poco aire por la puerta cerrada: {rules}.",
    # flooring, transition
    "flooring.undecided": "El piso del lado de {side} está sin decidir; todavía no hay corte inferior que hacer.",
    "flooring.carpet": (
        "La alfombra se mete en la holgura de {room} debajo de las jambas y de la chambrana; no se corta nada."
    ),
    "flooring.carpet_low": (
        "Las jambas quedan a {room} sobre el subpiso: la alfombra se mete debajo hasta donde entre, y si no, se "
        "recorta y se remete contra ellas."
    ),
    "flooring.carpet_low.bed": (
        "Las jambas quedan a {room} sobre aquello en que van la alfombra y su bajoalfombra: la alfombra se mete debajo "
        "hasta donde entre, y si no, se recorta y se remete contra ellas."
    ),
    "flooring.carpet_apart": (
        "Una jamba queda a {room} sobre el subpiso debajo de ella y la otra a {most}: la alfombra se mete debajo hasta "
        "donde entre, y si no, se recorta y se remete contra ellas."
    ),
    "flooring.carpet_apart.bed": (
        "Una jamba queda a {room} sobre aquello en que van la alfombra y su bajoalfombra, y la otra a {most}: la "
        "alfombra se mete debajo hasta donde entre, y si no, se recorta y se remete contra ellas."
    ),
    "flooring.carpet_level": (
        "Las jambas terminan a nivel de aquello en que van la alfombra y su bajoalfombra; la alfombra se recorta y se "
        "remete contra ellas."
    ),
    "flooring.carpet_in": (
        "La alfombra y su bajoalfombra van sobre capas de {bed} de espesor, y las jambas terminan {below} por debajo "
        "de la cara superior de estas: se ponen alrededor de las jambas, o antes se hace el corte inferior de jambas y "
        "chambrana para ellas. La alfombra se recorta y se remete contra las jambas."
    ),
    "flooring.carpet_down": "Las jambas se apoyan en el subpiso; la alfombra se recorta y se remete contra ellas.",
    "flooring.undercut": (
        "Haga el corte inferior de las jambas y de la chambrana a {cut} sobre el subpiso: el piso y un poco para la "
        "sierra."
    ),
    "flooring.undercut_one.shows": (
        "Una jamba termina {shows} por encima del acabado y se ve luz: ponga un suplemento trazado o baje el marco. A "
        "la otra se le hace el corte inferior, con su chambrana, a {cut} sobre el subpiso: el piso y un poco para la "
        "sierra."
    ),
    "flooring.shows": (
        "Las jambas terminan {shows} por encima del acabado y se ve luz: ponga un suplemento trazado o baje el marco."
    ),
    "flooring.undercut_one.filled": (
        "Una jamba termina {shows} por encima del acabado, lo que un suplemento tapa. A la otra se le hace el corte "
        "inferior, con su chambrana, a {cut} sobre el subpiso: el piso y un poco para la sierra."
    ),
    "flooring.undercut_one.covered": (
        "Una jamba termina {shows} por encima del acabado, lo que la pieza tapa. A la otra se le hace el corte "
        "inferior, con su chambrana, a {cut} sobre el subpiso: el piso y un poco para la sierra."
    ),
    "flooring.labelled": "Corte las jambas de este marco con etiqueta solo si su certificación lo permite. {text}",
    "flooring.raised": (
        "Por {marks}, este piso se instalará {layer} más alto, lo que aquí no se cuenta: vuelva a preguntar con el "
        "piso más alto antes de cortar nada. {text}"
    ),
    "flooring.filled": (
        "Las jambas terminan {shows} por encima del acabado, lo que unos suplementos tapan; no se corta nada."
    ),
    "flooring.covered": "Las jambas terminan {shows} por encima del acabado, lo que la pieza tapa; no se corta nada.",
    "flooring.bare": "Aquí la losa o el entablado mismo es el piso; no se instala nada y no se corta nada.",
    "flooring.clear": "El piso pasa debajo de las jambas; no se corta nada.",
    "transition.floating": (
        "{piece}. El piso es flotante: lea en sus instrucciones si necesita un corte en este paso de la puerta. Una "
        "moldura sobre el corte sobresale debajo de la hoja."
    ),
    "transition.plain": "{piece}, con un desnivel de {step}.",
    "transition.bevel": "{piece}: bisele todo el cambio de nivel de {drop} en un largo de al menos {run}.",
    "transition.bevel.upper": (
        "{piece}: del cambio de nivel de {drop}, la parte de abajo, de {upright}, puede quedar vertical; bisele la "
        "parte de arriba, de {rise}, en un largo de al menos {run}."
    ),
    "transition.bevel.open": (
        "{piece}: del cambio de nivel de {drop}, bisele la parte de arriba, de {rise}; cuánta pendiente puede tener "
        "no lo dice aquí ninguna regla."
    ),
    "transition.ramp": "{piece}: un cambio de nivel de {drop} necesita una rampa de al menos {run} de largo.",
    "transition.spared": (
        "{made} Va en lugar de la pieza usual aquí ({usual}): con espacio para que la hoja cierre por encima de esa "
        "pieza, la holgura sería mayor que la permitida por {rules}."
    ),
    # air
    "way.grille": (
        "Agregue en la pared una rejilla de transferencia de {free} de área libre (alrededor de {face} de frente con "
        "celosía metálica)."
    ),
    "way.prescribed": (
        "Use la vía prescrita: una rejilla de {area} (libres, por seguridad) y, además, una holgura de {clear} "
        "debajo de la hoja."
    ),
    "way.jump_duct": (
        "O ponga un ducto de paso (jump duct) de {size} de diámetro y hasta {length} de largo, con rejillas cuadradas "
        "de {grille}."
    ),
    "wall.fire": (
        "{text} En la hoja con etiqueta no se hace ninguna abertura; si la pared tiene resistencia al fuego, la "
        "abertura que se hace en ella necesita una compuerta cortafuego: pregunte primero a la autoridad competente."
    ),
    "wall.smoke": (
        "{text} En la hoja de una puerta de control de humo no se hace ninguna abertura; si la pared debe detener el "
        "humo, la abertura que se hace en ella necesita una compuerta cortahumo: pregunte primero a la autoridad "
        "competente."
    ),
    "way.ducted_return": "O lleve un retorno por ducto al cuarto.",
    "way.ducted_supply": "O suministre al cuarto el aire que saca el extractor del cuarto.",
    "way.raise_header": "Suba el dintel o use una puerta de menos altura.",
    "way.cut_leaf": (
        "Deje el dintel, pida {undercut} de rebaje inferior y corte {trim} de {leaves} en el banco, antes de colgar; "
        "el borde inferior queda a {bottom} sobre {subfloor}."
    ),
    "way.leave_line": "Saque este vano de su línea de cabezales; entonces queda como estaría por sí solo.",
    "way.set_again": "Saque la unidad y vuelva a colocarla; una revisión de cómo está indica dónde.",
    "way.other_unit": "Cambie la unidad por una con {undercut} de rebaje inferior.",
    # conflicts
    "conflict.against": "“{rule}” no se cumple por una diferencia de {amount}; en contra está: {against}.",
    "conflict.pressure": (
        "“{rule}” no se cumple por una diferencia de {amount}. La holgura sola tendría que ser de {gap}; lleve el "
        "resto por otra vía."
    ),
    "conflict.pressure_capped": (
        "“{rule}” no se cumple por una diferencia de {amount}. La holgura sola tendría que ser de {gap}; en contra "
        "está: {against}."
    ),
    "conflict.pressure.beyond": (
        "“{rule}” no se cumple: queda muy poco abierto bajo la hoja cerrada. La holgura sola tendría que ser de {gap}; "
        "lleve el resto por otra vía."
    ),
    "conflict.pressure_capped.beyond": (
        "“{rule}” no se cumple: queda muy poco abierto bajo la hoja cerrada. La holgura sola tendría que ser de {gap}; "
        "en contra está: {against}."
    ),
    "conflict.alone": "“{rule}” no se cumple por una diferencia de {amount}.",
    "conflict.prohibited": "“{rule}”: lo que se le pide a este vano no está permitido.",
    "conflict.unmet": "Este vano no cumple “{rule}”.",
    # events
    "event.unit-delivered": "{place}: unidad entregada",
    "event.opening-framed": "{place}: vano armado",
    "event.floor-laid": "{place}: piso instalado",
    # questions
    "place.pull_side": "del lado de jalar",
    "place.push_side": "del lado de empujar",
    "place.room": "en {room}",
    "ask.floor_undecided": "¿Qué piso, capa por capa, va {place}?",
    "ask.floor_may_change": (
        "¿Qué piso va {place}: {floors}? Hasta que sea definitivo no se corta nada para él, salvo lo que todos piden."
    ),
    "ask.floor_may_change.alike": (
        "¿Qué piso va {place}? Lo que figura en la lista es un mismo piso: {floors}. Hasta que sea definitivo no se "
        "corta nada para él, salvo lo que ese pide."
    ),
    "ask.floor_unconfirmed": "¿Quién confirma el piso {place}: {floors}? Hasta entonces no se corta nada para él.",
    "ask.narrow": (
        "¿Quién ensancha el vano en bruto? El marco y sus cuñas piden {needed} de ancho, y al vano le falta {short}."
    ),
    "ask.ramp_needed": (
        "Un cambio de nivel de {drop} es demasiado alto para un bisel aquí: ¿quién construye una rampa de al menos "
        "{run} de largo, y de qué lado? Debe quedar fuera del espacio que se deja libre para usar la puerta y, donde "
        "la hoja gira por encima, sube lo que la hoja tiene que salvar; decide el código local. Una vez acordada, "
        "nombre la rampa como la pieza que se coloca. La otra manera es acercar los niveles de los dos acabados, con "
        "la pieza que llevan encima."
    ),
    "ask.ramp_built": (
        "Los dos acabados quedan a {step} de diferencia, más de lo que salva una pieza comprada: ¿es lo que se "
        "quiere? Entonces, ¿quién construye una rampa, de qué largo y de qué lado? Donde la hoja gira por encima, sube "
        "lo que la hoja tiene que salvar; el código local puede pedir más. Una vez acordada, nombre la rampa como la "
        "pieza que se coloca. La otra manera es acercar los niveles de los dos acabados."
    ),
    "ask.piece_finishes": (
        "{piece}: según la tabla de piezas, esa pieza no une “{high}” con “{low}”. ¿Qué pieza se coloca?"
    ),
    "ask.piece_rise": (
        "{piece}: pero entre “{high}” y “{low}” se dice que algo sobresale {rise} del piso. ¿Qué pieza se coloca?"
    ),
    "ask.piece_step": (
        "{piece}: según la tabla de piezas, esa pieza no admite un desnivel de {step} entre “{high}” y “{low}”. ¿Qué "
        "pieza se coloca?"
    ),
    "ask.piece_floating": (
        "{piece}: según la tabla de piezas, esa pieza no va con un piso flotante, y uno de estos dos lo es: “{high}”, "
        "“{low}”. ¿Qué pieza se coloca?"
    ),
    "ask.subfloor": "¿Está a nivel el subpiso debajo de las jambas y dentro del barrido de la hoja? Se supuso a nivel.",
    "ask.survey": (
        "¿A qué altura está el subpiso donde se apoyan los tacos de medida? El punto medido más cercano queda "
        "demasiado lejos."
    ),
    "ask.undercut_to_order": (
        "Esta unidad aún no se ha comprado. ¿Puede pedirse con {undercut} de rebaje inferior en vez de {present}, para "
        "que nadie tenga que cortar {leaves}?"
    ),
    "ask.undercut": (
        "¿Cuánto es el rebaje inferior de esta unidad, del borde inferior de la hoja al borde inferior del marco?"
    ),
    "ask.room_floors": (
        "Los vanos de “{room}” indican pisos distintos: {floors}. ¿Es así, o hay un cambio que no llegó a todos?"
    ),
    "ask.foot": (
        "¿A qué altura sobre el subpiso más alto están las jambas de este marco? Se supuso que están como se aconseja."
    ),
    "ask.frame_label.floor": (
        "¿Se pueden cortar por abajo para el piso las jambas de este marco con etiqueta? Lo deciden su certificación y "
        "su etiqueta. Si no se puede, el marco tiene que apoyarse en el piso terminado: pregunte antes de colocarlo."
    ),
    "ask.frame_label.set": (
        "¿Se pueden cortar por abajo para el piso las jambas de este marco con etiqueta, ya colocado? Lo deciden su "
        "certificación y su etiqueta. Si no se puede, déjelas enteras y termine el piso contra ellas, o vuelva a "
        "colocar el marco sobre el piso terminado: pregunte antes de instalar el piso."
    ),
    "ask.frame_label": (
        "¿Se pueden cortar las jambas de este marco con etiqueta? Deciden la certificación y la etiqueta del marco."
    ),
    "ask.thickness": "¿Qué espesor tendrá esta capa: {layer}? Se tomó el típico.",
    "ask.unusual": (
        "¿Tiene esta capa {given} de espesor: {layer}? Lo común son de {least} a {greatest}. Si es así, indique "
        "también su espesor mínimo y su máximo."
    ),
    "ask.fixing": (
        "¿La alfombra {place} va pegada, o lleva un bajoalfombra? Mientras no se indique una de las dos cosas, la hoja "
        "se atiene a la altura para alfombra con bajoalfombra."
    ),
    "ask.coating": (
        "¿Lleva el concreto un recubrimiento, y de qué espesor? Se contó con uno usual; las alturas se miden desde la "
        "cara superior de la losa."
    ),
    "ask.rough_opening": "¿A qué altura sobre el subpiso llega el vano en bruto? El dintel no se revisó.",
    "ask.fire_minutes": (
        "¿De cuántos minutos es la resistencia al fuego de esta hoja, y qué permite su certificación en el borde "
        "inferior?"
    ),
    "ask.supply_flow": "¿Cuánto aire se suministra al cuarto, o se extrae de él, con esta puerta cerrada?",
    "ask.air_duty": (
        "Se indica un caudal de aire y ninguna función para él: ¿retorna por esta puerta (transfer_air) o repone el "
        "que se extrae (exhaust_makeup)? Mientras no conste, aquí no se lee ninguna regla sobre ese aire."
    ),
    "ask.air_short": (
        "De {supply}, por esta puerta cerrada y por lo que se indica a su lado pasan {passes} a {limit}: ¿por dónde "
        "pasa lo demás, {short}?"
    ),
    "ask.pressure_limit": "¿Qué presión a través de la puerta cerrada permite el diseño de aire?",
    "ask.pressure_limit.at": (
        "¿Qué presión a través de la puerta cerrada permite el diseño de aire? Con {supply} aquí es de {pressure}."
    ),
    "ask.pressure_limit.beyond": (
        "¿Qué presión a través de la puerta cerrada permite el diseño de aire? Con {supply} aquí pasaría de {most}: "
        "así de poco queda abierto. ¿Por qué otra vía va ese aire?"
    ),
    # house
    "house.summary": (
        "{openings}: listos para colocar como se aconseja, {ready}; en espera, {hold}; en conflicto, {conflict}; "
        "rechazados, {refused}. {lines}Tamaños de calza: {sizes}. Colocar y cortar suma {minutes}, contando las "
        "preferencias a las que se renuncia."
    ),
    "part.openings": "{count} vanos",
    "part.opening": "1 vano",
    "house.unproven": (
        "{summary} Había demasiados tamaños de calza en juego para revisarlos todos: otras colocaciones podrían "
        "llevar menos minutos."
    ),
    "house.lines": "Líneas de cabezales mantenidas: {held} de {lines}. ",
    "house.blocks": (
        "Tamaños de calza: {sizes}; si cada vano se decidiera por separado, {alone}. Los minutos salen iguales."
    ),
    "house.blocks.saves": (
        "Tamaños de calza: {sizes}; si cada vano se decidiera por separado, {alone}. Eso ahorra {minutes}."
    ),
    "house.blocks.takes": (
        "Tamaños de calza: {sizes}; si cada vano se decidiera por separado, {alone}. Eso lleva {minutes} más."
    ),
    "house.ties": (
        "Entre colocaciones que dan lo mismo: la menor en el peor caso; luego, la que renuncia a menos preferencias, "
        "la de menos cortes, la de jambas con el pie más cercano al subpiso y, al final, la de menos calzas y más "
        "pequeñas. El orden de los vanos nunca cuenta."
    ),
    "house.notice": (
        "Consejo, no permiso: deciden el código local tal como se adoptó, la certificación de cada puerta y el "
        "ejercicio profesional con licencia."
    ),
    "line.free": "Todos los cabezales de marco a {height}, cada uno como estaría por separado.",
    "line.strained": (
        "Todos los cabezales de marco a {height}, a costa de {minutes} más que por separado. Distintos de como "
        "estarían por separado: {marks}."
    ),
    "line.without": "{text} Sin {mark} la línea les cuesta a los demás {minutes}.",
    "line.none": (
        "No hay una misma altura que sirva para {marks}: por dinteles, marcos ya colocados o reglas. Cada uno va por "
        "separado."
    ),
    "line.empty": "En esta línea todavía no se puede colocar nada.",
    "line.unpriced": "No se conoce su rebaje inferior o la altura del pie de sus jambas: mídalos primero.",
    "line.refused": "Ningún vano que se pudo leer tiene esta marca.",
    # house, its doors set
    "house.rechecked": (
        "{openings}: bien como están, {fine}; solo preferencias sin cumplir, {live_with}; por corregir, {work}; en "
        "espera, {hold}; en conflicto, {conflict}; rechazados, {refused}. {open}{lines}El trabajo previsto lleva "
        "{minutes} min en {mended} de ellos; allí esperan respuesta, {held}."
    ),
    "house.rechecked.nothing": (
        "{openings}: bien como están, {fine}; solo preferencias sin cumplir, {live_with}; por corregir, {work}; en "
        "espera, {hold}; en conflicto, {conflict}; rechazados, {refused}. {open}{lines}No hay trabajo previsto."
    ),
    "house.rechecked.open": "Vanos donde alguien contesta o decide antes de que haya trabajo: {count}. ",
    "house.rechecked.lines": "Líneas de las que los primeros remedios sacan cabezales: {left} de {lines}. ",
    "house.planned": "Con su línea de cabezales se coloca de otro modo: {work}",
    "left.unlawful": "Por ley o norma no se pueden dejar así: {marks}.",
    "left.rest": "No se cumple algo más firme que una preferencia, o todavía no se sabe: {marks}.",
    "left.live_with": "Lo único que no se cumple son preferencias: {marks}.",
    "left.fine": "Bien como están: {marks}.",
    "left.none": "Ningún vano se pudo revisar.",
    "line.as_set.none": "No se pudo leer ningún vano de esta línea.",
    "line.as_set.stays": "{found} Los primeros remedios no mueven ningún cabezal del marco.",
    "line.found.level": "Todos los cabezales de marco están a {height}.",
    "line.found.apart": "Los cabezales de marco están entre {least} y {most}.",
    "line.together": (
        "{found} Se vuelven a colocar todas las unidades con los cabezales de marco a una misma altura, {height}, lo "
        "que lleva {minutes} min; cada una por su lado quedarían entre {least} y {most} y llevarían {alone} min."
    ),
    "line.kept": (
        "{found} Para conservar la línea, todos los cabezales de marco se ponen a {height}, lo que lleva {minutes} "
        "min; cada uno por su lado quedarían entre {least} y {most} y llevarían {alone} min."
    ),
    "line.keeping": (
        "{told} Conservar la línea, con todos los cabezales de marco a {height}, lleva {minutes} min en vez de "
        "{alone}; cambia entonces el trabajo en {openings}."
    ),
    "line.no_keeping": "{told} Nada de lo conocido aquí mantiene todos sus cabezales de marco a una misma altura.",
    "line.then.level": "Después de los primeros remedios quedan todos a {height}.",
    "line.then.apart": "Después de los primeros remedios quedan entre {least} y {most}.",
    "line.off.above": "El primer remedio deja {off} por encima de la línea el cabezal del marco de {mark}.",
    "line.off.below": "El primer remedio deja {off} por debajo de la línea el cabezal del marco de {mark}.",
    "line.off.other": "{text} Otro remedio deja su cabezal del marco donde está, {minutes} min: {remedy}",
    "line.off.no_other": (
        "{text} Ningún otro remedio que no deje nada firme sin cumplir mantiene su cabezal del marco donde está."
    ),
    "line.off.by_word": (
        "{text} Que se puede se da por contestado, bajo palabra de {by}; aquí no se comprobó nada de ello."
    ),
    "part.off.above": "{mark} ({off} por encima)",
    "part.off.below": "{mark} ({off} por debajo)",
    "ask.head_line.keeping": (
        "{ask} Conservarla, con todos los cabezales de marco a {height}, lleva {minutes} min en vez de {alone}."
    ),
    "ask.head_line": (
        "¿Pueden salirse cabezales de marco de la línea “{line}”? Los primeros remedios sacan algunos: {heads}."
    ),
    # recheck
    "summary.recheck.fine": "Todo está bien como está: {stands}",
    "summary.recheck.live_with": (
        "Lo único que no se cumple son preferencias ({count}), que pueden quedar así. {wish} Tal como está, {stands}"
    ),
    "summary.recheck.live_with.one": (
        "Lo único que no se cumple es una preferencia, que puede quedar así. {wish} Tal como está, {stands}"
    ),
    "summary.recheck.asked": "Déjelo como está hasta que se conteste esto: {ask} Aparte de eso: {text}",
    "summary.recheck.asked_too": "{text} Antes hay que contestar esto: {ask}",
    "summary.recheck.beside": "{text} Falta preguntar, aparte de la puerta: {ask}",
    "summary.recheck.work": "{first} Lo que menos trabajo da, {minutes} min: {remedy}",
    "summary.recheck.work_open": (
        "{first} Ningún remedio conocido aquí corrige todo lo que no se cumple (reglas firmes: {count}); vea qué deja "
        "cada uno."
    ),
    "summary.recheck.work_unmended": (
        "{first} Ningún remedio conocido aquí corrige nada de ello (reglas firmes que no se cumplen: {count})."
    ),
    "summary.recheck.conflict_open": (
        "{first} No corte ni instale nada todavía: ningún remedio conocido aquí corrige lo que no se puede dejar así "
        "(reglas firmes que no se cumplen: {count})."
    ),
    "summary.recheck.hold_cut": (
        "Un piso todavía no es definitivo: no corte nada. {first} Lo que menos trabajo da, {minutes} min: {remedy}"
    ),
    "summary.recheck.hold_asked": (
        "Pregunte antes de cortar. {first} Lo que menos trabajo da, {minutes} min: {remedy}"
    ),
    "summary.recheck.hold": "Un piso todavía no está indicado: no corte ni mueva nada. {first}",
    "summary.recheck.nothing_yet": "De lo que se puede saber, todo se cumple.",
    "summary.recheck.stands": "la hoja libra el piso {pull_floor} por {pull} y el {push_floor} por {push}, y {legs}.",
    "summary.recheck.legs.stand": "las jambas se apoyan en el subpiso",
    "summary.recheck.legs.alike": "las jambas terminan a {low} sobre el subpiso",
    "summary.recheck.legs.one_stands": "una jamba se apoya en el subpiso, la otra termina a {high} sobre él",
    "summary.recheck.legs.apart": "las jambas terminan a {low} y a {high} sobre el subpiso",
    "place.beside": "del lado de “{room}”",
    "place.piece": "sobre la pieza de transición",
    "place.doorway": "en el paso de la puerta",
    "place.top.floor": "del piso {where}",
    "place.top.piece": "de la pieza de transición",
    "place.top.doorway": "del piso en el paso de la puerta",
    "place.subfloor.level": "el subpiso",
    "place.subfloor.uneven": "el subpiso más alto debajo de las jambas",
    "finding.rubs": "La hoja termina {amount} por debajo de la cara superior {top}: roza.",
    "finding.touches": "La hoja termina a nivel con la cara superior {top}: toca.",
    "finding.tight": (
        "Debajo de la hoja, {where}, solo queda {gap}: “{rule}” no se cumple por una diferencia de {amount}."
    ),
    "finding.wide": "Debajo de la hoja, {where}, hay hasta {actual} de abertura: “{rule}” se excede en {amount}.",
    "finding.much_air": (
        "Debajo de la hoja, {where}, hay hasta {actual} de abertura, {amount} de más para humo, fuego o aire: “{rule}”."
    ),
    "finding.shows": "Las jambas terminan {amount} por encima del acabado {where}: se ve luz.",
    "finding.shows_leg": "La {leg} termina {amount} por encima del acabado {where}: se ve luz.",
    "finding.little_air": (
        "Pasa muy poco aire por la puerta cerrada: “{rule}” no se cumple por una diferencia de {amount}."
    ),
    "finding.edge": (
        "El cambio de nivel en el paso de la puerta no es el correcto: “{rule}” no se cumple por una diferencia de "
        "{amount}."
    ),
    "finding.overcut": (
        "A la hoja se le cortó {amount} más de lo que permite “{rule}”: ponga un travesaño inferior nuevo o cuelgue "
        "otra hoja, salvo que el proveedor de la puerta diga que lo que queda aguanta."
    ),
    "finding.overcut.listed": (
        "A la hoja se le cortó {amount} más de lo que permite “{rule}”. Si su etiqueta todavía vale lo dice su "
        "certificación: pregunte al proveedor de la puerta y cuente con otra hoja."
    ),
    "finding.other": "“{rule}” no se cumple por una diferencia de {amount}.",
    "finding.unmet": "“{rule}” no se cumple.",
    "remedy.trim.in_place": (
        "Corte {trim} de {leaves}, colgada, a lo largo de un riel guía; el borde inferior queda a {bottom} sobre "
        "{subfloor}."
    ),
    "remedy.trim.off_hinges": (
        "Saque {leaves} de sus bisagras y córtele {trim}; el borde inferior queda a {bottom} sobre {subfloor}."
    ),
    "remedy.trim.off_hinges_two": (
        "Saque {leaves} de sus bisagras entre dos personas y córtele {trim}; el borde inferior queda a {bottom} sobre "
        "{subfloor}."
    ),
    "remedy.listed": "Solo si la certificación de esta puerta con etiqueta lo permite: {text}",
    "remedy.when_certain": "Solo cuando los dos pisos sean definitivos: {text}",
    "remedy.opens_for_air": (
        "{text} Esta es la última opción: la holgura debajo de una puerta contra fuego o humo se mantiene tan pequeña "
        "como sea factible, así que pregunte primero si el aire puede pasar por la pared, por una rejilla o un ducto "
        "con su compuerta."
    ),
    "remedy.reset.stand": (
        "Saque la unidad y vuelva a colocarla con las jambas en el subpiso; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.reset.floor": (
        "Saque la unidad y vuelva a colocarla con las jambas en el piso ya instalado; {leaves} queda a {bottom} sobre "
        "{subfloor}."
    ),
    "remedy.reset.block": (
        "Saque la unidad y vuelva a colocarla, con las jambas a {amount} sobre el subpiso; {leaves} queda a {bottom} "
        "sobre {subfloor}."
    ),
    "remedy.reset.cut": (
        "Saque la unidad, corte {amount} de sus jambas y vuelva a colocarla; {leaves} queda a {bottom} sobre "
        "{subfloor}."
    ),
    "remedy.reset.apart": (
        "Saque la unidad y vuelva a colocarla, con {first} y {second}; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "leg.again.stand": "la {leg} en el subpiso debajo de ella",
    "leg.again.block": "la {leg} a {amount} sobre el subpiso debajo de ella",
    "leg.again.cut": "la {leg} recortada {amount}",
    "remedy.reset.labelled": (
        "{text} Fije la unidad y rellene alrededor como dicen las instrucciones de este marco con etiqueta."
    ),
    "remedy.reset.and_trim": "{text} Corte {trim} de {leaves} en el banco mientras la unidad está fuera.",
    "remedy.other_leaf.whole": (
        "Cambie {leaves} por otra como sale de fábrica, ajustada a las bisagras y la cerradura de este marco; su borde "
        "inferior queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_leaf.cut": (
        "Cambie {leaves} por otra como sale de fábrica, ajustada a las bisagras y la cerradura de este marco y con "
        "{trim} cortado en el banco; su borde inferior queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_leaf.labelled": "{text} Debe llevar la etiqueta o el certificado que este vano necesita.",
    "remedy.other_leaf.cut_labelled": (
        "{text} Debe llevar la etiqueta o el certificado que este vano necesita; córtela solo si su certificación lo "
        "permite."
    ),
    "remedy.other_unit.stand": (
        "Saque la unidad y coloque otra en su lugar, hecha con {undercut} de rebaje inferior, con las jambas en el "
        "subpiso; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_unit.floor": (
        "Saque la unidad y coloque otra en su lugar, hecha con {undercut} de rebaje inferior, con las jambas en el "
        "piso ya instalado; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_unit.block": (
        "Saque la unidad y coloque otra en su lugar, hecha con {undercut} de rebaje inferior, con las jambas a "
        "{amount} sobre el subpiso; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_unit.cut": (
        "Saque la unidad y coloque otra en su lugar, hecha con {undercut} de rebaje inferior, con las jambas "
        "recortadas {amount}; {leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_unit.apart": (
        "Saque la unidad y coloque otra en su lugar, hecha con {undercut} de rebaje inferior, con {first} y {second}; "
        "{leaves} queda a {bottom} sobre {subfloor}."
    ),
    "remedy.other_unit.labelled": "{text} Debe llevar la etiqueta o el certificado que este vano necesita.",
    "remedy.other_unit": "{text} Lo que cuesta la unidad no se cuenta en los minutos.",
    "remedy.fill_legs": (
        "Ajuste suplementos trazados debajo de ambas jambas y de su chambrana, donde terminan {shows} por encima del "
        "acabado."
    ),
    "remedy.fill_legs.apart": (
        "Ajuste suplementos trazados debajo de ambas jambas y de su chambrana, donde terminan hasta {shows} por "
        "encima del acabado."
    ),
    "remedy.fill_legs.tuck": "Alargue ambas jambas y su chambrana con suplementos que entren en el piso.",
    "remedy.cover_legs": (
        "Rodee ambas jambas con la pieza ({piece}), de modo que tape la holgura de {shows} debajo de ellas."
    ),
    "remedy.cover_legs.apart": (
        "Rodee ambas jambas con la pieza ({piece}), de modo que tape lo que se ve debajo de ellas, hasta {shows}."
    ),
    "remedy.raise_floor": "Instale {layer} más alto el piso {where}, sobre una capa base más gruesa.",
    "remedy.change_piece": "Instale otra pieza: {piece}; su resalte sobre el acabado más alto es de {rise}.",
    "remedy.change_piece.level": "Instale otra pieza: {piece}, a nivel con el acabado más alto.",
    "remedy.bottom_seal": "Instale un burlete en el borde inferior de {leaves}; cierra {reach} como máximo.",
    "remedy.bottom_seal.listed": (
        "Instale en el borde inferior de {leaves} el burlete que nombra la certificación de esta puerta; se supuso "
        "que cierra {reach} como máximo."
    ),
    "remedy.bottom_seal.if_listed": (
        "Solo si la certificación de esta puerta con etiqueta nombra un burlete para una holgura tan grande como esta: "
        "instálelo en el borde inferior de {leaves}. Mientras la certificación no lo diga, la holgura cuenta como "
        "abierta."
    ),
    "need.listing": "¿Permite la certificación de esta hoja con etiqueta cortar su borde inferior, y cuánto?",
    "need.leaf_label": (
        "¿Qué hoja lleva la etiqueta o el certificado que este vano necesita, y qué se le puede cortar en obra para "
        "las bisagras y la cerradura?"
    ),
    "need.unit_label": "¿Qué conjunto de hoja y marco lleva la etiqueta o el certificado que este vano necesita?",
    "need.frame_label": "¿Permite la certificación de este marco con etiqueta cortar o alargar sus jambas?",
    "need.frame_instructions": (
        "¿Qué piden la certificación y las instrucciones de instalación de este marco con etiqueta cuando se saca y se "
        "vuelve a colocar: anclajes, junta, relleno?"
    ),
    "need.seal_listing": (
        "¿Qué burlete en el borde inferior nombra la certificación de esta puerta con etiqueta, y para qué holgura?"
    ),
    "need.smoke_seal": (
        "¿Qué burlete de umbral nombra el certificado de esta puerta de control de humo, y qué holgura puede cerrar?"
    ),
    "need.authority": (
        "¿Permite la autoridad competente una rejilla junto a esta puerta, y qué compuerta necesita la pared?"
    ),
    "need.floors_certain": "Los dos pisos deben ser definitivos, vea las preguntas; antes no se empieza nada.",
    "need.floor_not_laid": "¿Falta todavía instalar el piso {where}? Solo así puede quedar más alto.",
    "nothing.fine": "No hace falta hacer nada.",
    "nothing.wish": "Se puede dejar así: lo único que no se cumple es una preferencia.",
    "nothing.wishes": "Se puede dejar así: lo único que no se cumple son preferencias.",
    "nothing.asked_too": "{text} Y si se puede dejar así depende de la respuesta a esto: {ask}",
    "nothing.asked": "Si se puede dejar así depende de la respuesta a esto: {ask}",
    "nothing.firm": (
        "Las reglas conocidas aquí no prohíben dejarlo así; siguen sin cumplirse {count} reglas más firmes que una "
        "preferencia."
    ),
    "nothing.firm.one": (
        "Las reglas conocidas aquí no prohíben dejarlo así; sigue sin cumplirse una regla más firme que una "
        "preferencia."
    ),
    "nothing.rubs": "No se puede dejar así: la hoja roza.",
    "nothing.unlawful": "No se puede dejar así: “{rule}” no se cumple.",
    "nothing.undecided": "Qué significa dejarlo así no se puede decir hasta que se indiquen los dos pisos.",
    "caution.cut_wall": (
        "Antes de cortar una pared, busque cables, tubos y estructura dentro de ella; la pintura vieja puede tener "
        "plomo. Una pared con resistencia al fuego no se corta sin permiso de su autoridad competente."
    ),
    "caution.wall_opening": "Hay una rejilla o un ducto a través de la pared junto a esta puerta.",
    "caution.small_parts": (
        "Corte suplementos y piezas con la guarda puesta, la pieza sujeta con prensas, las manos fuera de la línea de "
        "corte y los ojos y oídos protegidos."
    ),
    "caution.floor_raised": (
        "Por {marks}, el piso de “{room}” se instalará {layer} más alto. Así queda más alto también en este vano, cuya "
        "respuesta no lo cuenta: vuelva a preguntar con el piso más alto antes de instalarlo."
    ),
    "assumed.untrimmed": "La hoja se tomó como nunca recortada, y su rebaje inferior, por tanto, como {value}.",
    "assumed.leaf_bottom": (
        "El borde inferior de la hoja se tomó a {value} sobre {subfloor}, por la holgura y el piso que está debajo."
    ),
    "task.trim": "Recorte la hoja y selle el canto cortado",
    "task.trim.each": "Recorte cada hoja y selle su canto cortado",
    "task.reset": "Saque la unidad y vuelva a colocarla",
    "task.other_leaf": "Ajuste otra hoja al marco y cuélguela",
    "task.other_leaf.each": "Ajuste otras dos hojas al marco y cuélguelas",
    "task.other_unit": "Saque la unidad y coloque otra en su lugar",
    "task.fill_legs": "Ajuste y fije suplementos trazados debajo de ambas jambas",
    "task.cover_legs": "Rodee ambas jambas con la pieza de transición",
    "task.raise_floor": "Instale una capa base más gruesa",
    "task.change_piece": "Instale otra pieza de transición",
    "task.bottom_seal": "Instale un burlete en el borde inferior de la hoja",
    "task.bottom_seal.each": "Instale un burlete en el borde inferior de cada hoja",
    "task.transfer_grille": "Abra la pared y fije la rejilla de transferencia",
    # handling
    "caution.lift_one": "Esta hoja pesa alrededor de {mass}, como máximo {greatest}. {off}",
    "caution.lift_two": "Esta hoja pesa alrededor de {mass}, hasta {greatest}: la levantan dos personas. {off}",
    "caution.hang": "Levántela con la espalda recta y bájela antes de que se le afloje el agarre.",
    "caution.rehang": (
        "Al sacarla y volver a colgarla se pueden golpear el canto, las bisagras y los dedos: acúñela primero."
    ),
    # assumptions
    "assumed.head_gap": "La holgura sobre la hoja se tomó como {value}.",
    "assumed.head_thickness": "El cabezal del marco se tomó de {value} de espesor.",
    "assumed.leg_thickness": "Las jambas se tomaron de {value} de espesor.",
    "assumed.set_as_advised": "Se supuso que el marco está como se aconseja aquí.",
    "assumed.finer_grid": "La graduación de {asked} no deja lugar aquí entre dos límites: las alturas van en {used}.",
    "assumed.answered": (
        "Se tomó por contestado, de modo que el trabajo puede seguir, según {by}; aquí no se comprobó nada de ello: "
        "{question}"
    ),
    "assumed.as_of": (
        "Todavía no regían en la fecha del permiso, {day}; qué regía en su lugar no se sabe aquí, pregunte a quien lo "
        "otorgó: {rules}."
    ),
    "assumed.year_built": (
        "El edificio se tomó como construido en {year} o después, porque no se indica el año; por eso no se revisaron "
        "estas reglas: {rules}."
    ),
    "assumed.building_use": (
        "No se indica qué clase de edificio es; por eso no se revisaron estas reglas, que rigen en algunas clases: "
        "{rules}."
    ),
    "assumed.labour": "Los minutos de trabajo son supuestos aquí, vea GET /v1/labour; envíe los de esta cuadrilla.",
    "assumed.subfloor": "El subpiso se supuso a nivel.",
    "assumed.thickness": "{material}: se tomó {value}, lo típico va de {least} a {greatest}.",
    "assumed.carpet_total": "El espesor de la alfombra se tomó como el de toda la alfombra, pelo y respaldo.",
    # tasks
    "task.trim-leaf": "Recorte la hoja y selle el canto cortado",
    "task.trim-leaf.each": "Recorte cada hoja y selle su canto cortado",
    "task.trim-leaf-first.each": (
        "Recorte de cada hoja lo que piden todos los pisos que pueden venir y selle su canto cortado"
    ),
    "task.trim-leaf-first": "Recorte de la hoja lo que piden todos los pisos que pueden venir y selle el canto cortado",
    "task.set-frame": "Coloque el marco y cuelgue la hoja",
    "task.set-frame.each": "Coloque el marco y cuelgue las dos hojas",
    "task.undercut-jambs": "Haga el corte inferior de las jambas y de la chambrana para el piso",
    "task.fit-piece": "Instale la pieza de transición debajo de la hoja cerrada",
    "task.check-clearances": "Mida ambas holguras con los pisos instalados",
}

TERMS: dict[str, str] = {
    # rules that hold anywhere
    "Leaf over a hard finish, wanted": "Hoja sobre un acabado duro, lo deseado",
    ("Aim for a leaf 5/8 in above a hard finish: it clears small unevenness and a thin mat, and still looks close."): (
        "Se desea la hoja a 5/8 in sobre un acabado duro: libra desniveles pequeños y un tapete delgado, y todavía se "
        "ve cerrada."
    ),
    "Leaf over a hard finish, accepted": "Hoja sobre un acabado duro, lo aceptado",
    "A leaf 3/8 in above a hard finish is still accepted.": (
        "Una hoja a 3/8 in sobre un acabado duro todavía se acepta."
    ),
    "Lay a thinner floor.": "Instale un piso más delgado.",
    "Leaf above the subfloor under carpet, wanted": "Hoja sobre el subpiso con alfombra, lo deseado",
    (
        "Where carpet is planned, aim for a leaf 1 1/2 in above the subfloor, or above the topping or panel on it: "
        "that suits most carpet with its cushion. Over glued-down carpet only the pile counts."
    ): (
        "Donde va a ir alfombra, se desea la hoja a 1 1/2 in sobre el subpiso, o sobre la capa vaciada o el panel que "
        "lleve encima: eso sirve para la mayoría de las "
        "alfombras con su bajoalfombra. Sobre una alfombra pegada solo cuenta su pelo."
    ),
    "Leaf above the subfloor under carpet, accepted": "Hoja sobre el subpiso con alfombra, lo aceptado",
    (
        "A leaf 1 1/4 in above the subfloor, or above the topping or panel on it, is tight over carpet and leaves next "
        "to no room for air, but is accepted."
    ): (
        "Una hoja a 1 1/4 in sobre el subpiso, o sobre la capa vaciada o el panel que lleve encima, "
        "queda justa sobre la alfombra y casi no deja paso al aire, pero se acepta."
    ),
    "Agree on less where the carpet is thin.": "Acuerde menos donde la alfombra es delgada.",
    "Choose a thinner carpet and cushion.": "Elija una alfombra y un bajoalfombra más delgados.",
    "Leaf over the pile, wanted": "Hoja sobre el pelo de la alfombra, lo deseado",
    "Aim for a leaf 3/8 in above uncrushed pile.": "Se desea la hoja a 3/8 in sobre el pelo sin aplastar.",
    "Leaf over the pile, accepted": "Hoja sobre el pelo de la alfombra, lo aceptado",
    "A leaf 1/4 in above uncrushed pile is still accepted.": (
        "Una hoja a 1/4 in sobre el pelo sin aplastar todavía se acepta."
    ),
    "Closed leaf over the transition piece, wanted": "Hoja cerrada sobre la pieza de transición, lo deseado",
    "Aim for a closed leaf 1/4 in above the transition piece.": (
        "Se desea la hoja cerrada a 1/4 in sobre la pieza de transición."
    ),
    "Closed leaf over the transition piece, accepted": "Hoja cerrada sobre la pieza de transición, lo aceptado",
    (
        "A closed leaf 1/8 in above the transition piece is still accepted; the leaf only closes over it and doesn't "
        "sweep it."
    ): (
        "Una hoja cerrada a 1/8 in sobre la pieza de transición todavía se acepta; la hoja solo queda encima, no la "
        "barre."
    ),
    "Choose a flatter piece.": "Elija una pieza más plana.",
    "Gap above either finish, at most": "Holgura sobre cualquiera de los dos acabados, como máximo",
    "A gap of more than 1 in lets light and sound through and looks wrong.": (
        "Una holgura de más de 1 in deja pasar luz y ruido y se ve mal."
    ),
    "Leg under a hard floor, wanted": "Jamba bajo un piso duro, lo deseado",
    (
        "Aim for a foot 1/8 in below the top of a hard floor, so that the flooring installer's saw has something to "
        "cut."
    ): (
        "Se desea el pie de la jamba 1/8 in por debajo de la cara superior de un piso duro, para que la sierra del "
        "instalador de pisos tenga algo que cortar."
    ),
    "Leg under a hard floor, accepted": "Jamba bajo un piso duro, lo aceptado",
    "The foot stands no higher than the top of a hard floor; above it daylight shows under the leg.": (
        "El pie de la jamba no queda más alto que la cara superior de un piso duro; más arriba se ve luz debajo de la "
        "jamba."
    ),
    "Scribe a filler under the leg.": "Ajuste un suplemento trazado debajo de la jamba.",
    "Leg under carpet": "Jamba bajo alfombra",
    (
        "Under carpet the foot stands at most 1/2 in above the subfloor, or above the topping or panel on it, so that "
        "the carpet closes against it."
    ): (
        "Bajo alfombra, el pie de la jamba queda como máximo a 1/2 in sobre el subpiso, o sobre la capa vaciada o el "
        "panel que lleve encima, para que la alfombra cierre "
        "contra él."
    ),
    "Leg below the pile": "Jamba por debajo del pelo de la alfombra",
    "The foot stands at least 1/4 in below the top of the pile, so that crushed carpet still covers it.": (
        "El pie de la jamba queda al menos 1/4 in por debajo de la punta del pelo, para que la alfombra aplastada "
        "todavía lo tape."
    ),
    "Shim space over the head, wanted": "Espacio para cuñas sobre el cabezal del marco, lo deseado",
    "Aim for 1/4 in between head and header for shims.": (
        "Entre el cabezal del marco y el dintel se desea 1/4 in para cuñas."
    ),
    "Shim space over the head, accepted": "Espacio para cuñas sobre el cabezal del marco, lo aceptado",
    "1/8 in between head and header is the least that still takes a shim.": (
        "Entre el cabezal del marco y el dintel, 1/8 in es lo mínimo en que todavía cabe una cuña."
    ),
    "Raise the header, or use a shorter unit.": "Suba el dintel o use una unidad más baja.",
    "Pressure across a closed door, wanted": "Presión a través de una puerta cerrada, lo deseado",
    (
        "A target, not a requirement: with the door closed the room stays within 3 Pa of the hall at its supply flow. "
        "Published programmes for new houses use the same figure."
    ): (
        "Es una meta, no un requisito: con la puerta cerrada, la presión del cuarto no difiere en más de 3 Pa de la "
        "del pasillo con su caudal de suministro. Programas publicados para casas nuevas usan la misma cifra."
    ),
    "Carry what the gap can't by a transfer grille, a jump duct or a ducted return.": (
        "Una rejilla de transferencia, un ducto de paso (jump duct) o un retorno por ducto lleva lo que la holgura no "
        "puede."
    ),
    "Play at the bottom by an old textbook": "Juego debajo de la hoja según un manual antiguo",
    (
        "A textbook of 1916 leaves 1/8 in of play under the leaf and scribes it so that it swings over rugs. Compared "
        "here with the wanted values, which are larger."
    ): (
        "Un manual de 1916 deja 1/8 in de juego debajo de la hoja y la traza para que pase sobre tapetes. Se compara "
        "aquí con los valores deseados, que son mayores."
    ),
    "Legs left whole": "Jambas sin cortar",
    "Don't cut a leg for looks alone: a cut can't be undone, a wish can be given up.": (
        "A una jamba no se le corta nada solo por apariencia: un corte no se puede deshacer, a una preferencia se "
        "puede renunciar."
    ),
    "The leaf passes over the finish": "La hoja pasa sobre el acabado",
    "A leaf that ends below the top of the finish it swings or closes over doesn't open or doesn't close.": (
        "Una hoja que termina por debajo de la cara superior del acabado sobre el que abre o cierra, no abre o no "
        "cierra."
    ),
    "Choose a thinner floor, or a leaf that may be trimmed more.": (
        "Elija un piso más delgado o una hoja que se pueda recortar más."
    ),
    "The closed leaf passes over the transition piece": "La hoja cerrada pasa sobre la pieza de transición",
    "A leaf that ends below the top of the transition piece doesn't close over it.": (
        "Una hoja que termina por debajo de la cara superior de la pieza de transición no cierra sobre ella."
    ),
    "Choose a flatter piece, or a leaf that may be trimmed more.": (
        "Elija una pieza más plana o una hoja que se pueda recortar más."
    ),
    "Saw and dust": "Sierra y polvo",
    (
        "Cut with guard and riving knife in place and the leaf clamped. Protect eyes and ears, extract dust at the "
        "saw, and wear breathing protection for fibreboard and old paint."
    ): (
        "Corte con la guarda y la cuchilla separadora puestas, la hoja sujeta con prensas, los ojos y oídos protegidos "
        "y el polvo aspirado en la sierra; protección respiratoria para tablero de fibra y pintura vieja."
    ),
    "Plunge depth": "Profundidad de corte",
    (
        "Set the plunge so that the blade just passes through the leaf: it comes out on the far face, where a jamb, a "
        "wall or a hand may be. Keep it clear of a finished floor and of heating pipes or cables in it."
    ): (
        "Ajuste la profundidad de corte para que el disco atraviese la hoja y nada más: sale por la cara opuesta, "
        "donde puede haber una jamba, una pared o una mano. Manténgalo lejos de un piso terminado y de los tubos o "
        "cables de calefacción que tenga dentro."
    ),
    "Seal cut edges at once": "Selle de inmediato los cantos cortados",
    "Seal every cut edge at once, before the leaf is hung again: moisture enters through an unsealed bottom edge.": (
        "Selle de inmediato todo canto cortado, antes de volver a colgar la hoja: la humedad entra por un borde "
        "inferior sin sellar."
    ),
    "Trim limit, hollow-core leaf": "Límite de recorte, hoja de núcleo hueco",
    (
        "Cut at most 1/2 in off a hollow-core leaf: common practice. The solid bottom rail is only about 1 in high, as "
        "a government guide on undercut doors says; enough of it must stay."
    ): (
        "A una hoja de núcleo hueco se le corta como máximo 1/2 in, práctica común. El travesaño inferior macizo tiene "
        "solo alrededor de 1 in de alto, como dice una guía oficial sobre puertas con rebaje inferior; debe quedar "
        "suficiente de él."
    ),
    "Set the frame higher or order a greater undercut; a deeper cut needs a new bottom rail.": (
        "Coloque el marco a mayor altura o pida un rebaje inferior mayor; un corte más profundo necesita un travesaño "
        "inferior nuevo."
    ),
    "Trim limit, solid-core leaf": "Límite de recorte, hoja de núcleo macizo",
    "Cut at most 3/4 in off a solid-core leaf, so that its bottom rail stays whole.": (
        "A una hoja de núcleo macizo se le corta como máximo 3/4 in, para que su travesaño inferior quede entero."
    ),
    "Set the frame higher, order a greater undercut or a shorter leaf, or ask the door supplier.": (
        "Coloque el marco a mayor altura, pida un rebaje inferior mayor o una hoja más corta, o pregunte al proveedor "
        "de la puerta."
    ),
    "Trim limit, stile-and-rail leaf": "Límite de recorte, hoja de largueros y travesaños",
    "Cut at most 1 1/2 in off a stile-and-rail leaf, to stay below dowels and tenons.": (
        "A una hoja de largueros y travesaños se le corta como máximo 1 1/2 in, para quedar por debajo de tarugos y "
        "espigas."
    ),
    "Trim limit, solid fibreboard leaf": "Límite de recorte, hoja maciza de tablero de fibra",
    "Cut at most 3/4 in off a leaf of solid fibreboard, and seal its cut edge again.": (
        "A una hoja maciza de tablero de fibra se le corta como máximo 3/4 in, y su canto cortado se vuelve a sellar."
    ),
    "Trim limit, steel leaf": "Límite de recorte, hoja de acero",
    "Don't trim a steel leaf on site.": "Una hoja de acero no se recorta en obra.",
    "Set the frame higher or order another undercut.": "Coloque el marco a mayor altura o pida otro rebaje inferior.",
    "Trim limit, fibreglass leaf": "Límite de recorte, hoja de fibra de vidrio",
    "Don't trim a fibreglass leaf on site: there is little or no rail at its edge.": (
        "Una hoja de fibra de vidrio no se recorta en obra: en su borde hay poco o ningún travesaño."
    ),
    "Bottom rail of a hollow-core leaf": "Travesaño inferior de una hoja de núcleo hueco",
    (
        "The solid bottom rail of a hollow-core leaf is only about 1 in (25 mm) high: check where it ends before you "
        "cut; a deep undercut may need a new rail."
    ): (
        "El travesaño inferior macizo de una hoja de núcleo hueco tiene solo alrededor de 1 in (25 mm) de alto: vea "
        "dónde termina antes de cortar; un rebaje inferior profundo puede necesitar un travesaño nuevo."
    ),
    # rules of England
    "Air under an internal door, hard finish": "Aire debajo de una puerta interior, acabado duro",
    (
        "In a new dwelling the free area under an internal door equals a 10 mm gap under a 760 mm leaf; 7600 mm2 is "
        "that product, not a printed figure. A wider leaf may have a smaller gap."
    ): (
        "En una vivienda nueva, el área libre debajo de una puerta interior equivale a una holgura de 10 mm debajo de "
        "una hoja de 760 mm; 7600 mm2 es ese producto, no una cifra impresa. Una hoja más ancha puede tener una "
        "holgura menor."
    ),
    "Carry the air by a transfer grille or a ducted path.": (
        "Lleve el aire por una rejilla de transferencia o una vía por ducto."
    ),
    "Air under an internal door, carpet": "Aire debajo de una puerta interior, alfombra",
    "Air under an internal door, finish not laid": "Aire debajo de una puerta interior, acabado sin instalar",
    (
        "In a new dwelling an internal door over a floor whose finish is not fitted is undercut 20 mm above the floor "
        "surface, which presumes about 10 mm of finish. Checked here where the finish isn't known; where it is, the "
        "area above it counts."
    ): (
        "En una vivienda nueva, una puerta interior sobre un piso cuyo acabado no está instalado lleva un rebaje "
        "inferior de 20 mm sobre la superficie del piso, lo que supone unos 10 mm de acabado. Aquí se aplica donde el "
        "acabado no se conoce; donde se conoce, cuenta el área sobre él."
    ),
    "Decide the floor first: the leaf then needs 10 mm plus its thickness.": (
        "Decida primero el piso: lo que la hoja necesita entonces son 10 mm más el espesor del piso."
    ),
    "Accessible threshold": "Umbral accesible",
    (
        "An accessible threshold is level or at most 15 mm high, with few upstands and slopes. The guidance asks for "
        "it at entrances."
    ): (
        "Un umbral accesible está a nivel o tiene como máximo 15 mm de alto, con pocos rebordes y pendientes. La guía "
        "lo pide en las entradas."
    ),
    "Lower the threshold, or bring the two finishes closer together.": (
        "Baje el umbral o acerque los niveles de los dos acabados."
    ),
    "Lower the threshold or the finish, bevel it, or ramp it.": (
        "Baje el umbral o el acabado, hágale un bisel o hágale una rampa."
    ),
    "Upstand of an accessible threshold": "Reborde de un umbral accesible",
    "An upstand of more than 5 mm in an accessible threshold is chamfered.": (
        "Un reborde de más de 5 mm en un umbral accesible se achaflana."
    ),
    "Gap under a smoke-control door": "Holgura debajo de una puerta de control de humo",
    "Under a smoke-control door the gap is at most 3 mm, or a threshold seal closes it.": (
        "Debajo de una puerta de control de humo, la holgura es como máximo de 3 mm; si no, la cierra un burlete de "
        "umbral."
    ),
    "Fit the threshold seal that the door's certificate names; carry transfer air by another path.": (
        "Instale el burlete de umbral que nombra el certificado de la puerta; lleve el aire de transferencia por otra "
        "vía."
    ),
    "No air under a fire door": "Nada de aire bajo una puerta cortafuego",
    (
        "Cut nothing off a fire door for air, and don't open its gap for it: its certificate and the guidance on gaps "
        "come first. Where ventilation needs a way between these rooms, ask its designer which other one it takes."
    ): (
        "A una puerta cortafuego no se le corta nada por el aire, ni se le abre la holgura: su "
        "certificado y la guía sobre holguras van primero. Donde la ventilación necesite un paso entre estos cuartos, "
        "pregunte a quien la proyecta qué otro toma."
    ),
    "Gaps of a fire door": "Holguras de una puerta cortafuego",
    (
        "Gaps between a fire door and its frame are nowhere over 4 mm; at the bottom the gap is as small as "
        "practicable without the leaf catching if it drops a little. No figure is given for the bottom."
    ): (
        "Las holguras entre una puerta cortafuego y su marco no pasan en ningún punto de 4 mm; abajo, la holgura es "
        "tan pequeña como sea factible sin que la hoja se atore si baja un poco. Para la parte de abajo no se da "
        "ninguna cifra."
    ),
    "Gap that the certificate allows": "Holgura que permite el certificado",
    (
        "Which gap at the threshold does this door's certificate or its maker's instruction allow, and does it allow "
        "trimming?"
    ): (
        "¿Qué holgura en el umbral permite el certificado de esta puerta o la instrucción de su fabricante, y permite "
        "recortar la puerta?"
    ),
    "Bottom rail after trimming": "Travesaño inferior después del recorte",
    "When a standard flush door is reduced in height, its bottom rail is replaced where necessary.": (
        "Cuando se reduce la altura de una puerta lisa estándar, su travesaño inferior se reemplaza donde haga falta."
    ),
    "No air through a garage door": "Nada de aire por la puerta al garaje",
    (
        "No air is taken from a garage: exhaust gas comes with it. The door between garage and house is not an air "
        "path. What the regulations ask here was not read."
    ): (
        "No se toma aire de un garaje: con él entran gases de escape. La puerta entre el garaje y la casa no es vía "
        "para el aire. Lo que piden aquí los reglamentos no se leyó."
    ),
    "Heating in the floor": "Calefacción en el piso",
    (
        "There is heating in a floor here: find its pipes or cables before you nail, screw or drill anything in this "
        "doorway, tack strip and transition piece included. Where they can't be found, drive nothing in; glue what can "
        "be glued."
    ): (
        "Aquí hay calefacción en un piso: localice sus tubos o cables antes de clavar, atornillar o taladrar cualquier "
        "cosa en este paso de la puerta, incluidas la tira de púas y la pieza de transición. Donde no se puedan "
        "localizar, no se clava ni se atornilla nada; lo que se pueda pegar, se pega."
    ),
    "No opening beside a garage door": "Ninguna abertura junto a una puerta al garaje",
    (
        "Exhaust gas passes through any opening between garage and house: no grille and no duct may open the wall "
        "beside the door, whatever it is for."
    ): (
        "Los gases de escape pasan por todo lo que esté abierto entre el garaje y la casa: ninguna rejilla ni ningún "
        "ducto abre la pared junto a la puerta, sea para lo que sea."
    ),
    "Close the opening as that wall has to be closed; take the air another way.": (
        "Cierre la abertura como la pared tiene que estar cerrada allí; el aire va por otra vía."
    ),
    "No air through the door of a fuel-burning appliance": (
        "Nada de aire por la puerta de un aparato que quema combustible"
    ),
    (
        "Take no air from a room with a fuel-burning appliance, neither under its door nor beside it, and count no gap "
        "under a door as its combustion air. What the regulations ask here was not read."
    ): (
        "No se toma aire de un cuarto con un aparato que quema combustible, ni por debajo de su puerta ni al lado, y "
        "ninguna holgura bajo una puerta cuenta como su aire de combustión. Lo que piden aquí los reglamentos no se "
        "leyó."
    ),
    (
        "Bring combustion air from outdoors as the appliance and building control ask, and take this room's air "
        "elsewhere."
    ): (
        "Traiga el aire de combustión del exterior como piden el aparato y el control de edificación, y tome de "
        "otro lugar el aire de este cuarto."
    ),
    "The door of a room with a fuel-burning appliance": "La puerta de un cuarto con un aparato que quema combustible",
    (
        "What do the appliance's maker and building control ask of this door and of the air of its room? The rules "
        "were not read here and no number is given. Ask before you set or cut anything."
    ): (
        "¿Qué piden el fabricante del aparato y el control de edificación para esta puerta y para el aire de su "
        "cuarto? Las reglas no se leyeron aquí y no se da ningún número. Pregunte antes de colocar o cortar nada."
    ),
    "Door between garage and house": "Puerta entre el garaje y la casa",
    (
        "What does building control ask of this door between garage and house: rating, self-closing, height above the "
        "garage floor, seal at the bottom? The rules were not read here and no number is given."
    ): (
        "¿Qué pide el control de edificación para esta puerta entre el garaje y la casa: resistencia al fuego, cierre "
        "automático, altura sobre el piso del garaje, burlete en el borde inferior? Las reglas no se leyeron aquí y "
        "no se da ningún número."
    ),
    # rules of the United States
    "Vertical edge on an accessible route": "Borde vertical en una ruta accesible",
    "On an accessible route a change in level may be vertical up to 1/4 in; anything above that is bevelled.": (
        "En una ruta accesible, un cambio de nivel puede ser vertical hasta 1/4 in; lo que pasa de ahí se bisela."
    ),
    "Bevel on an accessible route": "Bisel en una ruta accesible",
    "A change in level of 1/4 to 1/2 in is bevelled no steeper than 1 in 2; a vertical part stands below the bevel.": (
        "Un cambio de nivel de 1/4 a 1/2 in se bisela con pendiente de no más de 1 en 2; una parte vertical queda "
        "debajo del bisel."
    ),
    "Change in level without a ramp": "Cambio de nivel sin rampa",
    (
        "A change in level of more than 1/2 in on an accessible route is ramped. An existing threshold has a limit of "
        "its own."
    ): (
        "Un cambio de nivel de más de 1/2 in en una ruta accesible lleva rampa. Un umbral existente tiene su propio "
        "límite."
    ),
    "Bring the two finishes closer together, or ramp the difference.": (
        "Acerque los niveles de los dos acabados o haga una rampa para la diferencia."
    ),
    "Slope of a ramp": "Pendiente de una rampa",
    "A ramp on an accessible route rises at most 1 in 12.": "Una rampa en una ruta accesible sube como máximo 1 en 12.",
    "Make the ramp longer, or bring the two finishes closer together.": (
        "Haga la rampa más larga o acerque los niveles de los dos acabados."
    ),
    "Threshold on an accessible route": "Umbral en una ruta accesible",
    "A new threshold at a door on an accessible route is at most 1/2 in high.": (
        "Un umbral nuevo en una puerta de una ruta accesible tiene como máximo 1/2 in de alto."
    ),
    "Existing threshold on an accessible route": "Umbral existente en una ruta accesible",
    "An existing or altered threshold may be 3/4 in high when it is bevelled on each side no steeper than 1 in 2.": (
        "Un umbral existente o modificado puede tener 3/4 in de alto si está biselado en cada lado con pendiente de no "
        "más de 1 en 2."
    ),
    "Pile height on an accessible route": "Altura del pelo de la alfombra en una ruta accesible",
    "Carpet on an accessible route has a pile of at most 1/2 in, to its backing, cushion or pad.": (
        "La alfombra en una ruta accesible tiene un pelo de 1/2 in como máximo, hasta su respaldo, bajoalfombra o "
        "almohadilla."
    ),
    "Choose a carpet of lower pile.": "Elija una alfombra de pelo más bajo.",
    "Carpet edges on an accessible route": "Bordes de alfombra en una ruta accesible",
    (
        "Carpet lies on a firm pad or none and is fixed; its exposed edges are fastened and trimmed along their whole "
        "length, and the trim obeys the rule on changes in level."
    ): (
        "La alfombra va sobre una almohadilla firme o sin ninguna, y fija; sus bordes expuestos se sujetan y llevan "
        "remate en todo su largo, y el remate cumple la regla sobre cambios de nivel."
    ),
    "Height of a doorway on an accessible route": "Altura del paso de la puerta en una ruta accesible",
    (
        "A doorway on an accessible route is at least 80 in high; only stops and closers may hang lower. Checked here "
        "from the finish or threshold to the head of the frame."
    ): (
        "El paso de la puerta en una ruta accesible tiene al menos 80 in de alto; de lo que queda más abajo solo se "
        "admiten topes y cierrapuertas. Aquí se mide del acabado o umbral al cabezal del marco."
    ),
    "Use a taller door, or set the frame higher as far as header and floors allow.": (
        "Use una puerta más alta o coloque el marco a mayor altura hasta donde lo permitan el dintel y los pisos."
    ),
    "Headroom at a door on an accessible route": "Altura libre en una puerta de una ruta accesible",
    (
        "At a door on an accessible route stops and closers may come down to 78 in above the floor. Checked here from "
        "the finish or threshold to the stop at the head."
    ): (
        "En una puerta de una ruta accesible, los topes y cierrapuertas pueden bajar hasta 78 in sobre el piso. Aquí "
        "se mide del acabado o umbral al tope del cabezal del marco."
    ),
    "Set the frame higher, or lay a thinner floor.": "Coloque el marco a mayor altura o instale un piso más delgado.",
    "Whom the accessibility standards bind": "A quién obligan las normas de accesibilidad",
    (
        "The ADA Standards bind public accommodations, commercial facilities and state and local government. They "
        "don't bind a private one-family house: there their numbers are good practice, unless another law or the "
        "contract asks for them."
    ): (
        "Las normas ADA obligan a establecimientos de uso público, instalaciones comerciales y gobiernos estatales y "
        "locales. No obligan a una casa particular de una sola familia: allí sus números son buena práctica, salvo "
        "que otra ley o el contrato los pida."
    ),
    "Threshold by A117.1": "Umbral según A117.1",
    "Where the building code calls for this standard, a new threshold is at most 1/2 in high.": (
        "Donde el código de construcción exige esta norma, un umbral nuevo tiene como máximo 1/2 in de alto."
    ),
    "Threshold by the fair housing guidelines": "Umbral según las pautas de vivienda justa",
    (
        "What limit does the project set for finish changes inside a covered dwelling? The guidelines allow a "
        "threshold of 3/4 in, bevelled no steeper than 1 in 2, at exterior doors; what they ask of doors inside the "
        "unit wasn't read."
    ): (
        "¿A qué límite sujeta el proyecto los cambios de acabado dentro de una vivienda a la que se aplican las "
        "pautas? Las pautas permiten un umbral de 3/4 in, biselado con pendiente de no más de 1 en 2, en puertas "
        "exteriores; lo que piden de las puertas dentro de la unidad de vivienda no se leyó."
    ),
    "Threshold by the building code": "Umbral según el código de construcción",
    (
        "Model code: check what was adopted. A threshold at a hinged door is at most 1/2 in above the finished floor; "
        "above 1/4 in it is bevelled no steeper than 1 in 2."
    ): (
        "Código modelo: verifique qué se adoptó. Un umbral en una puerta con bisagras queda como máximo a 1/2 in sobre "
        "el piso terminado; lo que pasa de 1/4 in se bisela con pendiente de no más de 1 en 2."
    ),
    "Vertical edge at a doorway by the building code": (
        "Borde vertical en el paso de la puerta según el código de construcción"
    ),
    (
        "Model code: check what was adopted. Up to 1/4 in of a change in level at a door may be vertical; anything "
        "above that is bevelled."
    ): (
        "Código modelo: verifique qué se adoptó. En una puerta, hasta 1/4 in de un cambio de nivel puede ser vertical; "
        "lo que pasa de ahí se bisela."
    ),
    "Bevel the edge above 1/4 in.": "Bisele el borde por encima de 1/4 in.",
    "Bevel at a doorway by the building code": "Bisel en el paso de la puerta según el código de construcción",
    "Model code: check what was adopted. A change in level at a door over 1/4 in is bevelled no steeper than 1 in 2.": (
        "Código modelo: verifique qué se adoptó. Un cambio de nivel de más de 1/4 in en una puerta se bisela con "
        "pendiente de no más de 1 en 2."
    ),
    "Make the bevel longer.": "Haga el bisel más largo.",
    "Rooms that give no return air": "Cuartos que no dan aire de retorno",
    (
        "Model code: check what was adopted. No return air is taken from a closet, bath, toilet room, kitchen, garage "
        "or furnace room. A kitchen return that serves the kitchen alone may be allowed."
    ): (
        "Código modelo: verifique qué se adoptó. No se toma aire de retorno de un clóset, baño, cuarto de inodoro, "
        "cocina, garaje o cuarto de calefacción. Un retorno de cocina que sirve solo a la cocina puede estar permitido."
    ),
    "Supply the room with the air it exhausts, or duct the return from another room.": (
        "Suministre al cuarto lo que se extrae de él o lleve el retorno por ducto desde otro cuarto."
    ),
    "Door of a room with a fuel-burning appliance": "Puerta de un cuarto con un aparato que quema combustible",
    (
        "Model code: check what was adopted. A room with a fuel-burning appliance that opens off a bedroom, bath, "
        "toilet room or storage closet takes all combustion air from outdoors; its door is solid, weather-stripped and "
        "self-closing."
    ): (
        "Código modelo: verifique qué se adoptó. Un cuarto con un aparato que quema combustible y que da a un "
        "dormitorio, baño, cuarto de inodoro o clóset de almacenamiento toma todo el aire de combustión del exterior; "
        "su puerta es maciza, con burletes y de cierre automático."
    ),
    "Bring combustion air from outdoors as the appliance and the code ask; only then seal the door.": (
        "Traiga aire de combustión del exterior como lo piden el aparato y el código; solo entonces selle la puerta."
    ),
    "The door of a fuel-burning enclosure": "La puerta de un recinto con un aparato que quema combustible",
    (
        "Is this the door of an enclosure with a fuel-burning appliance that opens off a bedroom, bath, toilet room or "
        "storage closet? Then it has to be solid, weather-stripped and self-closing, and no gap is wanted under it. If "
        "it opens off any other room: where does the appliance's combustion air come from? A tighter door may starve "
        "it. Ask before you set or cut anything."
    ): (
        "¿Es esta la puerta de un recinto con un aparato que quema combustible que da a un dormitorio, baño, cuarto de "
        "inodoro o clóset de almacenamiento? Entonces tiene que ser maciza, con burletes y de cierre automático, y no "
        "se desea holgura debajo de ella. Si da a otro cuarto: ¿de dónde viene el aire de combustión del aparato? Una "
        "puerta más hermética puede dejarlo sin aire. Pregunte antes de colocar o cortar nada."
    ),
    "No combustion air through an undercut": "Nada de aire de combustión por un rebaje inferior",
    (
        "Model code: check what was adopted. For combustion air only rooms joined by openings without doors count as "
        "one: a gap under a door does not join them. The undercut must not be counted as combustion air."
    ): (
        "Código modelo: verifique qué se adoptó. Para el aire de combustión, solo cuentan como uno los cuartos unidos "
        "por vanos sin puertas: una holgura debajo de una puerta no los une. El rebaje inferior no debe tomarse para "
        "aire de combustión."
    ),
    "Opening of a dryer closet": "Abertura de un clóset de secadora",
    (
        "Model code: check what was adopted. A closet for a clothes dryer has an opening of at least 100 in2 in its "
        "enclosure, or other approved make-up air."
    ): (
        "Código modelo: verifique qué se adoptó. Un clóset para una secadora de ropa tiene en su cerramiento una "
        "abertura de al menos 100 in2, u otro aire de reposición aprobado."
    ),
    (
        "Fit a grille beside the door or a louvre in its leaf, but none towards a garage: an undercut can't give this "
        "area."
    ): (
        "Ponga una rejilla junto a la puerta o una celosía en su hoja, pero ninguna hacia un garaje: un rebaje "
        "inferior no puede dar esta área."
    ),
    "Room pressure of a rated home": "Presión del cuarto en una casa con calificación energética",
    (
        "With bedroom doors closed and the air handler at its highest design speed, a room stays within 3 Pa of the "
        "rest of the house."
    ): (
        "Con las puertas de los dormitorios cerradas y la manejadora de aire a su velocidad de diseño más alta, la "
        "presión de un cuarto no difiere en más de 3 Pa de la del resto de la casa."
    ),
    "Carry the air by a transfer grille, a jump duct or a ducted return in the wall instead of a wider gap.": (
        "Lleve el aire por una rejilla de transferencia, un ducto de paso (jump duct) o un retorno por ducto en la "
        "pared, en vez de una holgura mayor."
    ),
    "Room pressure of a rated home, large flow": (
        "Presión del cuarto en una casa con calificación energética, caudal grande"
    ),
    "A room whose design flow is 150 cfm or more may reach 5 Pa against the rest of the house.": (
        "Un cuarto cuyo caudal de diseño es de 150 cfm o más puede llegar a 5 Pa de diferencia respecto al resto de "
        "la casa."
    ),
    "Return openings and a draft hood": "Aberturas de retorno y una campana de tiro",
    (
        "Model code: check what was adopted. A return opening is at least 10 ft from an open combustion chamber or "
        "draft hood in the same room: keep any grille or ducted return added here that far from the appliance."
    ): (
        "Código modelo: verifique qué se adoptó. Una abertura de retorno queda al menos a 10 ft de una cámara de "
        "combustión abierta o campana de tiro en el mismo cuarto: mantenga a esa distancia del aparato la rejilla o el "
        "retorno por ducto que aquí se agregue."
    ),
    "Closed doors and a natural-draft appliance": "Puertas cerradas y un aparato de tiro natural",
    (
        "In 70 houses with a central return, closing all inner doors put the middle of the house on average 2.9 Pa "
        "below outdoors, 14.7 Pa at worst. That can pull flue gas back into the house: have the appliance tested for "
        "spillage."
    ): (
        "En 70 casas con retorno central, cerrar todas las puertas interiores puso el centro de la casa en promedio "
        "2.9 Pa por debajo del exterior, 14.7 Pa en el peor caso. Eso puede arrastrar gases de combustión de vuelta a "
        "la casa: haga que prueben si el aparato derrama gases de combustión en la casa."
    ),
    (
        "Model code: check what was adopted. The leaf between garage and house is solid wood at least 1 3/8 in thick, "
        "solid or honeycomb-core steel at least 1 3/8 in thick, or rated 20 minutes."
    ): (
        "Código modelo: verifique qué se adoptó. La hoja entre el garaje y la casa es de madera maciza de al menos 1 "
        "3/8 in de espesor, de acero macizo o con núcleo de panal de al menos 1 3/8 in de espesor, o con resistencia "
        "al fuego de 20 minutos."
    ),
    "Order a leaf of one of the three kinds.": "Pida una hoja de una de las tres clases.",
    "Door of a garage": "La puerta de un garaje",
    (
        "Does this door stand between garage and house? Then list the duty garage_to_house: its leaf, its closing and "
        "its air were not checked for that. If it does not, name another use for the room."
    ): (
        "¿Está esta puerta entre el garaje y la casa? Entonces indique la función garage_to_house: su hoja, su cierre "
        "y su aire no se examinaron para eso. Si no, indique otro uso para el cuarto."
    ),
    "Door of a furnace room": "La puerta de un cuarto de calefacción",
    (
        "Does a fuel-burning appliance stand behind this door? Then list the duty fuel_burning_room: the door and the "
        "air were not checked for that. If none does, name another use for the room."
    ): (
        "¿Hay un aparato que quema combustible detrás de esta puerta? Entonces indique la función fuel_burning_room: "
        "la puerta y el aire no se examinaron para eso. Si no hay ninguno, indique otro uso para el cuarto."
    ),
    "Panels of a leaf between garage and house": "Tableros de una hoja entre el garaje y la casa",
    (
        "Model code: check what was adopted. How thick are the panels of this leaf? Unless it is rated 20 minutes, "
        "wood between garage and house is at least 1 3/8 in thick, and panels are mostly thinner than their frame. Ask "
        "before you set or cut anything."
    ): (
        "Código modelo: verifique qué se adoptó. ¿Qué espesor tienen los tableros de esta hoja? Si no tiene "
        "resistencia al fuego de 20 minutos, la madera entre el garaje y la casa tiene al menos 1 3/8 in de espesor, y "
        "los tableros suelen ser más delgados que su bastidor. Pregunte antes de colocar o cortar nada."
    ),
    "Solid core between garage and house": "Núcleo macizo entre el garaje y la casa",
    (
        "Model code: check what was adopted. Does the authority count this solid core as the solid wood that the code "
        "names? That was assumed here; a leaf rated 20 minutes needs no answer."
    ): (
        "Código modelo: verifique qué se adoptó. ¿Cuenta la autoridad competente este núcleo macizo como la madera "
        "maciza que nombra el código? Aquí se tomó así; una hoja con resistencia al fuego de 20 minutos no necesita "
        "respuesta."
    ),
    "No door from garage to bedroom": "Ninguna puerta del garaje a un dormitorio",
    (
        "Model code: check what was adopted. No opening leads from a garage straight into a room for sleeping. Who "
        "allows this door? Ask before you set or cut anything."
    ): (
        "Código modelo: verifique qué se adoptó. Ningún vano lleva de un garaje directamente a un cuarto para dormir. "
        "¿Quién permite esta puerta? Pregunte antes de colocar o cortar nada."
    ),
    "Self-closing door to the garage": "La puerta al garaje cierra sola",
    (
        "Model code: check what was adopted. The door between garage and house is self-closing; it must still swing "
        "and close over the finished floor. Often changed by local amendment."
    ): (
        "Código modelo: verifique qué se adoptó. La puerta entre el garaje y la casa cierra sola; todavía debe girar y "
        "cerrar sobre el piso terminado. Las enmiendas locales lo cambian a menudo."
    ),
    "No return air through a garage door": "Nada de aire de retorno por la puerta al garaje",
    (
        "Model code: check what was adopted. No return air is taken from a garage: the door between garage and house "
        "is not an air path."
    ): (
        "Código modelo: verifique qué se adoptó. No se toma aire de retorno de un garaje: la puerta entre el garaje y "
        "la casa no es vía para el aire."
    ),
    "Take the air from another room, or duct the return; don't open the wall beside this door.": (
        "Tome el aire de otro cuarto o lleve el retorno por ducto; nada abre la pared junto a esta puerta."
    ),
    "No duct opens into a garage": "Ningún ducto se abre a un garaje",
    (
        "Model code: check what was adopted. Ducts through the wall between garage and house have no openings into the "
        "garage; a grille in that wall is such an opening without the duct."
    ): (
        "Código modelo: verifique qué se adoptó. Los ductos que cruzan la pared entre el garaje y la casa no tienen "
        "aberturas hacia el garaje; una rejilla en esa pared es tal abertura sin el ducto."
    ),
    "Clear height of the egress door": "Altura libre de la puerta de egreso",
    (
        "Model code: check what was adopted. The required egress door of a dwelling is clear for at least 78 in from "
        "the top of the threshold to the bottom of the stop."
    ): (
        "Código modelo: verifique qué se adoptó. La puerta de egreso exigida de una vivienda queda libre al menos 78 "
        "in, de la cara superior del umbral al borde inferior del tope."
    ),
    "Set the frame higher, or lay a thinner floor and a lower threshold.": (
        "Coloque el marco a mayor altura o instale un piso más delgado y un umbral más bajo."
    ),
    "Floor below the threshold of the egress door": "Piso por debajo del umbral de la puerta de egreso",
    (
        "Model code: check what was adopted. At the required egress door the finished floor lies at most 1 1/2 in "
        "below the top of the threshold. On the exterior side it may be 7 3/4 in when the leaf does not swing over it."
    ): (
        "Código modelo: verifique qué se adoptó. En la puerta de egreso exigida, el piso terminado queda como máximo 1 "
        "1/2 in por debajo de la cara superior del umbral. Del lado exterior pueden ser 7 3/4 in si la hoja no gira "
        "sobre él."
    ),
    "Lower the threshold or build the floor up.": "Baje el umbral o suba el piso.",
    "Clear height of an egress door by the building code": (
        "Altura libre de una puerta de egreso según el código de construcción"
    ),
    (
        "Model code: check what was adopted. At a door in a means of egress stops and closers may come down to 78 in "
        "above the floor. Dwelling units have exceptions. Checked here to the stop at the head; whether a threshold "
        "reduces it is disputed, and here it does."
    ): (
        "Código modelo: verifique qué se adoptó. En una puerta de un medio de egreso, los topes y cierrapuertas pueden "
        "bajar hasta 78 in sobre el piso. Las unidades de vivienda tienen excepciones. Aquí se mide hasta el tope del "
        "cabezal del marco; si un umbral reduce esa altura es discutido, y aquí la reduce."
    ),
    "Height of an egress door by the building code": ("Altura de una puerta de egreso según el código de construcción"),
    (
        "Model code: check what was adopted. A door in a means of egress is at least 80 in high. Dwelling units have "
        "exceptions, so it isn't checked in apartments. Checked here to the head of the frame; whether a threshold "
        "reduces it is disputed, and here it does."
    ): (
        "Código modelo: verifique qué se adoptó. Una puerta en un medio de egreso tiene al menos 80 in de alto. Las "
        "unidades de vivienda tienen excepciones, por eso no se aplica en departamentos. Aquí se mide hasta el cabezal "
        "del marco; si un umbral reduce esa altura es discutido, y aquí la reduce."
    ),
    "Gap under a fire door": "Holgura debajo de una puerta cortafuego",
    (
        "The gap under a labelled swinging fire door, to the floor covering or whatever else lies under it, is at most "
        "3/4 in, whatever the flooring. Products listed for a larger gap follow their listing."
    ): (
        "La holgura debajo de una puerta cortafuego batiente con etiqueta, hasta el revestimiento del piso o "
        "cualquier otra cosa que quede debajo de la hoja, es como máximo de 3/4 in, sea cual sea el piso. Los "
        "productos certificados para una holgura mayor siguen su certificación."
    ),
    (
        "Fix too wide a gap with a listed product under the door, a higher floor or another leaf; or with a sill under "
        "the closed leaf if the authority counts the gap to it, which is not done here. Carry air by a transfer "
        "grille, a jump duct or a ducted return in the wall, but none to or from a garage or a room with a "
        "fuel-burning appliance."
    ): (
        "Una holgura demasiado grande se corrige con un producto certificado debajo de la puerta, un piso que quede "
        "más alto u otra hoja; con un umbral (sill) debajo de la hoja cerrada si la autoridad competente mide la "
        "holgura hasta él, lo que aquí no se hace. Lleve el aire por una rejilla de transferencia, un ducto de paso "
        "(jump duct) o un retorno por ducto en la pared, pero ninguno hacia o desde un garaje o un cuarto con un "
        "aparato que quema combustible."
    ),
    "Trim of a wood or composite fire door": "Recorte de una puerta cortafuego de madera o compuesta",
    (
        "A labelled wood or composite leaf may be undercut on site by at most 3/4 in. Secondary texts differ on "
        "whether that is what comes off or the gap that results; here both are checked."
    ): (
        "Una hoja de madera o compuesta con etiqueta se puede rebajar por abajo en obra como máximo 3/4 in. Los "
        "textos secundarios difieren en si eso es lo que se corta o la holgura que resulta; aquí se aplican las dos."
    ),
    "Order a leaf with the undercut this floor needs, or set the frame higher.": (
        "Pida una hoja con el rebaje inferior que este piso necesita o coloque el marco a mayor altura."
    ),
    "No site trim of other fire doors": "Sin recorte en obra de otras puertas cortafuego",
    (
        "Among the work that the standard leaves to the site, undercutting is named for wood and composite leaves "
        "only: don't cut a labelled steel or fibreglass leaf."
    ): (
        "Entre los trabajos que la norma deja a la obra, el corte por abajo se nombra solo para hojas de madera y "
        "compuestas: una hoja de acero o de fibra de vidrio con etiqueta no se corta."
    ),
    "Does the listing allow this cut": "Si la certificación permite este corte",
    (
        "Does the listing of this labelled leaf allow its bottom to be trimmed, and by how much? Don't trim it on this "
        "service's word; never trim top or edges."
    ): (
        "¿Permite la certificación de esta hoja con etiqueta recortar su borde inferior, y cuánto? No se recorta por "
        "la palabra de este servicio; el borde superior y los cantos, nunca."
    ),
    "Keep the label": "Conserve la etiqueta",
    "Leave labels on leaf and frame in place, visible and legible: don't remove them or paint over them.": (
        "Las etiquetas de la hoja y del marco se quedan en su lugar, visibles y legibles: no se quitan ni se les "
        "pinta encima."
    ),
    "Gaps round a fire door": "Holguras alrededor de una puerta cortafuego",
    (
        "Check head, jambs and meeting edges of this labelled leaf from the pull side, door latched: the gap is at "
        "most 1/8 in at a wood leaf, and 1/8 in at a steel one, give or take 1/16 in. Not checked here."
    ): (
        "Revise cabezal, jambas y cantos de encuentro de esta hoja con etiqueta desde el lado de jalar, con la puerta "
        "cerrada y el pestillo enganchado: la holgura es como máximo de 1/8 in en una hoja de madera y de 1/8 in, 1/16 "
        "in más o menos, en una de acero. Aquí no se examinó."
    ),
    "Inspect again after the floor": "Inspeccione otra vez después del piso",
    (
        "A fire door is inspected on completion and after work on it, gaps included. A floor laid after the door "
        "passed changes the gap: check it again."
    ): (
        "Una puerta cortafuego se inspecciona al terminarla y después de trabajar en ella, incluidas las holguras. Un "
        "piso instalado después de que la puerta pasó cambia la holgura: revísela otra vez."
    ),
    "Sill over a combustible floor": "Umbral (sill) sobre un piso combustible",
    (
        "Does the combustible construction of a floor run through under this fire door? If so, it needs a sill, unless "
        "the opening requires no more than 20 or 30 minutes. For a covering alone, its radiant flux counts."
    ): (
        "¿Sigue de corrido la construcción combustible de un piso por debajo de esta puerta cortafuego? Entonces "
        "necesita un umbral (sill), salvo que el vano no pida más de 20 o 30 minutos. Si solo sigue un "
        "revestimiento, cuenta su flujo radiante."
    ),
    "Floor covering through under a fire door": "Revestimiento de piso de corrido debajo de una puerta cortafuego",
    (
        "May this combustible floor covering run through? Under doors of 3/4, 1 and 1 1/2 h it may without a sill "
        "when its critical radiant flux is at least 0.22 W/cm2; under 3 h doors it may not."
    ): (
        "¿Puede este revestimiento de piso combustible seguir de corrido? Debajo de puertas de 3/4, 1 y 1 1/2 h "
        "puede, sin umbral (sill), si su flujo radiante crítico es de al menos 0.22 W/cm2; debajo de puertas de 3 h "
        "no puede."
    ),
    "Leakage of a smoke door": "Fuga de una puerta de control de humo",
    (
        "Model code: check what was adopted. What bottom seal does the listing of this smoke door ask for? Leakage by "
        "UL 1784 is at most 3.0 cfm per ft2 of opening at 0.10 in of water; an open gap will rarely meet that."
    ): (
        "Código modelo: verifique qué se adoptó. ¿Qué burlete en el borde inferior pide la certificación de esta "
        "puerta de control de humo? La fuga según UL 1784 es como máximo de 3.0 cfm por ft2 de vano a 0.10 in de "
        "agua; una holgura abierta rara vez lo cumple."
    ),
    "Painted surface disturbed in an old house": "Superficie pintada que se altera en una casa antigua",
    (
        "In housing from before 1978, paid work that disturbs at most 6 ft2 of painted surface in a room within 30 "
        "days, by no prohibited practice, counts as minor repair; a strip counts by one face. Other work needs the "
        "full lead-safe practice."
    ): (
        "En viviendas anteriores a 1978, el trabajo pagado que altera como máximo 6 ft2 de superficie pintada en un "
        "cuarto en 30 días, sin ninguna práctica prohibida, cuenta como reparación menor; una tira cuenta por una "
        "cara. Otro trabajo exige la práctica completa de trabajo seguro con plomo."
    ),
    "Have a certified renovator do the work, or have the paint tested.": (
        "Haga que un renovador certificado haga el trabajo o haga analizar la pintura."
    ),
    "Lead paint": "Pintura con plomo",
    (
        "Doors, jambs and casings from before 1978 may carry lead paint. In housing, and where small children are "
        "looked after, paid work that trims or planes a painted door, or undercuts a painted jamb or casing, is "
        "renovation work: certified firm, contained dust, no prohibited practice, unless it stays a minor repair."
    ): (
        "Las puertas, jambas y chambranas anteriores a 1978 pueden tener pintura con plomo. En viviendas, y donde se "
        "cuida a niños pequeños, el trabajo pagado que recorta o cepilla una puerta pintada, o hace el corte inferior "
        "de una jamba o chambrana pintada, es trabajo de renovación: empresa certificada, polvo contenido, ninguna "
        "práctica prohibida, salvo que quede en reparación menor."
    ),
    "Old fire doors may hold asbestos": "Las puertas cortafuego viejas pueden contener asbesto",
    (
        "An agency's list of suspect materials names fire doors. Don't cut a rated or unidentified leaf from an old "
        "building before its core has been tested. The year 1980 is this service's own caution, not a rule."
    ): (
        "La lista de materiales sospechosos de una agencia nombra las puertas cortafuego. Una hoja con resistencia al "
        "fuego o sin identificar de un edificio viejo no se corta antes de analizar su núcleo. El año 1980 como límite "
        "es precaución propia de este servicio, no una regla."
    ),
    (
        "The core of an old fire door may hold asbestos. Don't cut a rated or unidentified leaf from an old building "
        "before its core has been tested. The year 2000 is this service's own caution; what the regulations ask here "
        "was not read."
    ): (
        "El núcleo de una puerta cortafuego vieja puede contener asbesto. Una hoja con resistencia al fuego o sin "
        "identificar de un edificio viejo no se corta antes de analizar su núcleo. El año 2000 como límite es "
        "precaución propia de este servicio; lo que piden aquí los reglamentos no se leyó."
    ),
    "Guards of a portable saw": "Guardas de una sierra portátil",
    (
        "A portable circular saw must have guards above and below its base plate and a lower guard that returns "
        "automatically; keep the guards on whenever it runs."
    ): (
        "Una sierra circular portátil lleva guarda por encima y por debajo de su base, la guarda inferior vuelve sola "
        "y las guardas están puestas siempre que la sierra gira."
    ),
    "Eye protection": "Protección de los ojos",
    "Protect eyes and face wherever particles fly.": (
        "Los ojos y la cara se protegen dondequiera que vuelen partículas."
    ),
    # rules of Florida
    "Pressure across closed doors": "Presión a través de puertas cerradas",
    (
        "Where returns are central, the pressure across the closed door of a habitable room is at most 0.01 in of "
        "water, 2.5 Pa."
    ): (
        "Donde los retornos son centrales, la presión a través de la puerta cerrada de un cuarto habitable es como "
        "máximo de 0.01 in de agua, 2.5 Pa."
    ),
    (
        "A wall grille of 50 in2 per 100 cfm, or a transfer duct of 1.5 times the supply duct, each with an "
        "unrestricted 1 in undercut; or a ducted return."
    ): (
        "Una rejilla de pared de 50 in2 por cada 100 cfm o un ducto de transferencia de 1.5 veces el ducto de "
        "suministro, cada uno con un rebaje inferior de 1 in sin obstrucción; o un retorno por ducto."
    ),
    "Wall grille instead of a measured pressure": "Rejilla de pared en lugar de una presión medida",
    (
        "One listed way: a grille through the wall of 50 in2 per 100 cfm of supply, beside an unrestricted 1 in "
        "undercut. The text says grille area; whether gross or free is open."
    ): (
        "Una de las vías enumeradas: una rejilla a través de la pared de 50 in2 por cada 100 cfm de suministro, "
        "además de un rebaje inferior de 1 in sin obstrucción. El texto dice área de rejilla; no aclara si es bruta o "
        "libre."
    ),
    "Fit a larger grille, or show 2.5 Pa or less by measurement.": (
        "Instale una rejilla más grande o demuestre 2.5 Pa o menos por medición."
    ),
    "Undercut beside a wall grille": "Rebaje inferior junto a una rejilla de pared",
    (
        "The listed grille or transfer duct goes together with an unrestricted undercut of 1 in, which is not counted "
        "in its area."
    ): (
        "La rejilla o el ducto de transferencia enumerados van junto con un rebaje inferior de 1 in sin obstrucción, "
        "que no se cuenta en su área."
    ),
    "Show 2.5 Pa or less by measurement, or duct the return.": (
        "Demuestre 2.5 Pa o menos por medición o lleve el retorno por ducto."
    ),
    # materials
    "Carpet cushion, bonded foam": "Bajoalfombra de espuma aglomerada",
    "Carpet cushion, prime foam": "Bajoalfombra de espuma virgen",
    "Carpet cushion, grafted prime foam": "Bajoalfombra de espuma virgen injertada",
    "Carpet cushion, densified prime foam": "Bajoalfombra de espuma virgen densificada",
    "Carpet cushion, frothed foam": "Bajoalfombra de espuma batida",
    "Carpet cushion, fibre": "Bajoalfombra de fibra",
    "Carpet cushion, flat rubber": "Bajoalfombra de hule plano",
    "Carpet cushion, rippled rubber": "Bajoalfombra de hule ondulado",
    "Carpet, medium cut pile, with its backing": "Alfombra de pelo cortado mediano, con su respaldo",
    "Carpet, level loop, with its backing": "Alfombra de bucle parejo, con su respaldo",
    "Carpet, deep plush or frieze, with its backing": "Alfombra de felpa alta o de pelo rizado, con su respaldo",
    "Carpet, shag, with its backing": "Alfombra de pelo muy largo, con su respaldo",
    "Sheet vinyl": "Vinilo en rollo",
    "Linoleum sheet": "Linóleo en rollo",
    "Vinyl composition tile": "Loseta de composición de vinilo",
    "Vinyl plank or tile, glued down": "Tabla o loseta de vinilo, pegada",
    "Rigid-core vinyl plank, floating, with its pad": "Tabla de vinilo de núcleo rígido, flotante, con su almohadilla",
    "Rubber sheet or tile": "Hule en rollo o en loseta",
    "Cork tile, glued down": "Loseta de corcho, pegada",
    "Cork panel, floating": "Panel de corcho, flotante",
    "Laminate plank": "Tabla de laminado",
    "Foam underlay for floating floors": "Espuma para debajo de pisos flotantes",
    "Multilayer floating panel": "Panel flotante multicapa",
    "Engineered wood": "Madera de ingeniería",
    "Solid wood strip or plank": "Duela o tabla de madera maciza",
    "Solid softwood boards": "Tablas macizas de madera de conífera",
    "Felt or paper under nailed wood": "Fieltro o papel debajo de madera clavada",
    "Ceramic or porcelain tile": "Loseta de cerámica o de porcelanato",
    "Gauged porcelain panel": "Panel de porcelanato de espesor calibrado",
    "Natural stone tile": "Loseta de piedra natural",
    "Tile mortar, thin bed, after embedding": "Mortero para loseta, capa delgada, ya asentada",
    "Tile mortar for large and heavy tile, after embedding": "Mortero para loseta grande y pesada, ya asentada",
    "Tile backer board": "Tablero base para loseta",
    "Uncoupling mat": "Membrana de desacople",
    "Mortar bed floated for tile": "Cama de mortero tendida para loseta",
    "Self-levelling underlayment": "Capa base autonivelante",
    "Plywood underlayment": "Capa base de contrachapado (triplay)",
    "Acoustic mat": "Membrana acústica",
    "Electric heating mat in mortar": "Malla calefactora eléctrica en mortero",
    "Grooved hydronic heating panel": "Panel ranurado para calefacción por agua",
    "Poured gypsum topping": "Capa de yeso vaciada",
    "Polished or sealed concrete": "Concreto pulido o sellado",
    # transition pieces
    "One hard floor runs through, no piece": "Un mismo piso duro sigue de corrido, sin pieza",
    "One carpet runs through, no piece": "Una misma alfombra sigue de corrido, sin pieza",
    "T-moulding": "Moldura en T",
    "Flush insert between floors finished level": "Inserto al ras entre pisos que terminan a nivel",
    "Low T-moulding with eased edges": "Moldura en T baja con cantos suavizados",
    "Flush reducer": "Reductor al ras",
    "Overlap reducer": "Reductor traslapado",
    "Saddle bevelled on both edges": "Silleta biselada en ambos cantos",
    "Ramped reducer": "Reductor en rampa",
    "Carpet tucked to a hard edge that stands higher": "Alfombra remetida contra un borde duro que queda más alto",
    "End cap, carpet butted to it": "Remate de borde, con la alfombra a tope",
    "Carpet raised to the hard edge on a tapered pad": "Alfombra subida al borde duro sobre almohadilla en cuña",
    "Low end cap with carpet raised to it on a tapered pad": (
        "Remate de borde bajo, con la alfombra subida a él sobre almohadilla en cuña"
    ),
    "Carpet tucked to a hard edge": "Alfombra remetida contra un borde duro",
    "Full carpet turned down to a hard edge": "Alfombra completa doblada hacia abajo contra un borde duro",
    "Carpet bar, clamped": "Barra de alfombra, de apriete",
    "Carpet brought down to a hard floor on a tapered pad": "Alfombra bajada a un piso duro sobre almohadilla en cuña",
    "Carpet brought down on a tapered pad to a low cap": "Alfombra bajada sobre almohadilla en cuña a un remate bajo",
    "Carpet seam": "Costura de alfombra",
    "Carpet seam over a tapered pad": "Costura de alfombra sobre almohadilla en cuña",
    # lifting
    (
        "Guidance, not law: one person lifts up to 23 kg (51 lb) held close, from about 30 in (75 cm) above the floor, "
        "with a good grip; above that two people carry the leaf. Stairs, a long reach, a poor grip or a twisted back "
        "lower that mass."
    ): (
        "Es orientación, no ley: una persona levanta hasta 23 kg (51 lb) pegados al cuerpo, desde unas 30 in (75 cm) "
        "sobre el piso, con buen agarre; por encima de eso, la hoja la cargan dos personas. Las escaleras, estirar "
        "mucho los brazos, un mal agarre o la espalda torcida reducen ese peso."
    ),
    (
        "Guidance, not law: above about 50 lb (22.7 kg) a lift is more likely to injure, so two people carry the leaf "
        "or a lift takes it. Keep it between mid-thigh and mid-chest; stairs, a long reach or a twisted back lower "
        "that mass."
    ): (
        "Es orientación, no ley: por encima de unas 50 lb (22.7 kg) es más probable lesionarse al levantar, así que la "
        "hoja la cargan dos personas o la lleva un elevador. Manténgala entre medio muslo y medio pecho; las "
        "escaleras, estirar mucho los brazos o la espalda torcida reducen ese peso."
    ),
    (
        "Guidance, not law: one man lifts up to 25 kg, one woman up to 16 kg, held close at about waist height; above "
        "that two people carry the leaf; together they manage about two thirds of what each could alone, added up. "
        "Stairs, an outstretched arm or a twisted back lower that mass."
    ): (
        "Es orientación, no ley: un hombre levanta hasta 25 kg y una mujer hasta 16 kg, pegados al cuerpo y más o "
        "menos a la altura de la cintura; por encima de eso, la hoja la cargan dos personas, que juntas pueden con "
        "unos dos tercios de lo que cada una podría, sumado. Las escaleras, un brazo estirado o la espalda torcida "
        "reducen ese peso."
    ),
    # adoption
    (
        "Approved Documents are statutory guidance: one accepted way to meet the building regulations. Building "
        "control and the conditions of the consent decide."
    ): (
        "Los Approved Documents son guía oficial con base en la ley: una manera aceptada de cumplir el reglamento de "
        "construcción. Deciden el control de edificación y las condiciones del permiso."
    ),
    (
        "Model codes and the standards they name apply as the state or municipality adopted and amended them; ask the "
        "authority having jurisdiction which edition is in force."
    ): (
        "Los códigos modelo y las normas que nombran rigen tal como el estado o el municipio los adoptó y enmendó; "
        "pregunte a la autoridad competente qué edición está en vigor."
    ),
    (
        "The Florida building code applies in the edition in force at the permit date; its numbering moves from "
        "edition to edition, so check the clause."
    ): (
        "El código de construcción de Florida rige en la edición vigente en la fecha del permiso; su numeración cambia "
        "de una edición a otra, así que verifique la cláusula."
    ),
    # what else stands against a rule
    "the present rough opening": "el vano en bruto actual",
    "the frame as it is set": "el marco tal como está colocado",
    "the setting for floors that may change": "la colocación para pisos que pueden cambiar",
    "the head line": "la línea de cabezales",
    "the block sizes of the house": "los tamaños de calza de la casa",
    # titles of guidance on lifting
    "One person's lift under the best conditions": "Lo que levanta una persona en las mejores condiciones",
    "Heavy lifting on site, United States": "Levantar pesos en obra, Estados Unidos",
    "Filter for lifting and lowering, Great Britain": "Filtro para levantar y bajar, Gran Bretaña",
    # cores
    "Hollow: two fibreboard skins on a wood frame, honeycomb between": (
        "Hueca: dos caras de tablero de fibra sobre bastidor de madera, panal en medio"
    ),
    "Solid: particleboard or wood-block core between skins": (
        "Maciza: núcleo de aglomerado o de bloques de madera entre caras"
    ),
    "Stile and rail: solid wood frame with wood panels": (
        "Largueros y travesaños: bastidor de madera maciza con tableros de madera"
    ),
    "Medium-density fibreboard throughout": "Toda de tablero de fibra de densidad media",
    "Steel skins on a foam or honeycomb core": "Caras de acero sobre núcleo de espuma o de panal",
    "Glass-fibre skins on a foam core": "Caras de fibra de vidrio sobre núcleo de espuma",
    # the rule that a project brings
    "Pressure limit of the project": "Límite de presión del proyecto",
    # layers by their ids
    "carpet cushion": "bajoalfombra de espuma aglomerada",
    "cushion prime foam": "bajoalfombra de espuma virgen",
    "cushion grafted prime": "bajoalfombra de espuma virgen injertada",
    "cushion densified prime": "bajoalfombra de espuma virgen densificada",
    "cushion frothed": "bajoalfombra de espuma batida",
    "cushion fibre": "bajoalfombra de fibra",
    "cushion rubber flat": "bajoalfombra de hule plano",
    "cushion rubber rippled": "bajoalfombra de hule ondulado",
    "carpet": "alfombra de pelo cortado mediano, con su respaldo",
    "carpet loop": "alfombra de bucle parejo, con su respaldo",
    "carpet plush": "alfombra de felpa alta o de pelo rizado, con su respaldo",
    "carpet shag": "alfombra de pelo muy largo, con su respaldo",
    "sheet vinyl": "vinilo en rollo",
    "linoleum": "linóleo en rollo",
    "vinyl tile": "loseta de composición de vinilo",
    "vinyl glue down": "tabla o loseta de vinilo, pegada",
    "vinyl plank": "tabla de vinilo de núcleo rígido, flotante, con su almohadilla",
    "rubber": "hule en rollo o en loseta",
    "cork": "loseta de corcho, pegada",
    "cork floating": "panel de corcho, flotante",
    "laminate": "tabla de laminado",
    "foam underlay": "espuma para debajo de pisos flotantes",
    "multilayer panel": "panel flotante multicapa",
    "engineered wood": "madera de ingeniería",
    "solid wood": "duela o tabla de madera maciza",
    "solid softwood": "tablas macizas de madera de conífera",
    "felt paper": "fieltro o papel debajo de madera clavada",
    "ceramic tile": "loseta de cerámica o de porcelanato",
    "gauged porcelain": "panel de porcelanato de espesor calibrado",
    "stone tile": "loseta de piedra natural",
    "thin bed mortar": "mortero para loseta, capa delgada, ya asentada",
    "medium bed mortar": "mortero para loseta grande y pesada, ya asentada",
    "backer board": "tablero base para loseta",
    "uncoupling mat": "membrana de desacople",
    "mud bed": "cama de mortero tendida para loseta",
    "self levelling": "capa base autonivelante",
    "plywood underlay": "capa base de contrachapado (triplay)",
    "acoustic mat": "membrana acústica",
    "heating mat": "malla calefactora eléctrica en mortero",
    "hydronic panel": "panel ranurado para calefacción por agua",
    "gypsum topping": "capa de yeso vaciada",
    "sealed concrete": "concreto pulido o sellado",
    # what stands in place of a document, an edition or a clause
    "Common practice, no source": "Práctica común, sin fuente",
    "as read in 2026": "leída en 2026",
    "edition not shown": "edición no indicada",
    "undated page": "página sin fecha",
    "see the document": "vea el documento",
    "clause not checked": "cláusula sin verificar",
    "The project's own rules": "Reglas propias del proyecto",
    "as sent": "como se envió",
    "2009, inferred: the text seen names no edition": "2009, deducida: el texto visto no nombra edición",
    "2015, inferred: the text seen names no edition": "2015, deducida: el texto visto no nombra edición",
    "as answered by the agency, archived January 2021": "según respondió la agencia, archivada en enero de 2021",
    "updated 25 October 2023": "actualizada el 25 de octubre de 2023",
}
