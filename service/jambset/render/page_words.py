"""Words of the sandbox page, English and Spanish side by side."""

from __future__ import annotations

from jambset.model.source import Asked
from jambset.render.sheet_words import SHEET
from jambset.render.wire import SIDES

_OWN: dict[str, tuple[str, str]] = {
    # the page itself
    "page.title": ("jambset: try an opening", "jambset: pruebe un vano"),
    "page.heading": ("Set the jambs before the floors", "Coloque las jambas antes que los pisos"),
    "page.lead": (
        "Pick a worked example or paste a request, change it, and see what the service answers.",
        "Elija un ejemplo resuelto o pegue una solicitud, cámbiela y vea qué responde el servicio.",
    ),
    "page.skip.request": ("Skip to the request", "Ir a la solicitud"),
    "page.skip.answer": ("Skip to the answer", "Ir a la respuesta"),
    "page.no_script": (
        "This page needs scripts. The documentation and the contract don't:",
        "Esta página necesita scripts. La documentación y el contrato no los necesitan:",
    ),
    "page.notice": (
        "Advice isn't approval. Local code as adopted, the door's own listing and licensed practice decide.",
        (
            "Un consejo no es una aprobación. Deciden el código local adoptado, la certificación de la propia puerta y "
            "el ejercicio profesional con licencia."
        ),
    ),
    "page.nav.service": ("Service", "Servicio"),
    "page.nav.docs": ("Documentation", "Documentación"),
    "page.nav.contract": ("Contract", "Contrato"),
    "page.nav.rules": ("Rules", "Reglas"),
    "page.nav.language": ("Language", "Idioma"),
    "page.footer": (
        "Nothing you send is stored. The same request always gets the same answer.",
        "Nada de lo que envía se guarda. La misma solicitud recibe siempre la misma respuesta.",
    ),
    # the request
    "page.request": ("Request", "Solicitud"),
    "page.scenario": ("Worked example", "Ejemplo resuelto"),
    "page.scenario.own": ("A request of my own", "Una solicitud propia"),
    "page.scenario.own_story": (
        "Paste your request into the editor and choose the call it is for.",
        "Pegue su solicitud en el editor y elija la llamada a la que va.",
    ),
    "page.call": ("Call", "Llamada"),
    "page.call.advice": ("Advice on one opening", "Consejo para un vano"),
    "page.call.recheck": ("Recheck of a door already set", "Revisión de una puerta ya colocada"),
    "page.call.house": ("Advice on a whole house", "Consejo para una casa entera"),
    "page.call.house_recheck": ("Recheck of a whole house", "Revisión de una casa entera"),
    "page.editor": ("Body of the request (JSON)", "Cuerpo de la solicitud (JSON)"),
    "page.editor.hint": (
        (
            "Ctrl+Space offers fields and values, F1 explains the field at the cursor, F8 goes to the next fault. "
            "Tab leaves the editor."
        ),
        (
            "Ctrl+Espacio ofrece campos y valores, F1 explica el campo del cursor, F8 va al siguiente error. "
            "Con Tab se sale del editor."
        ),
    ),
    "page.editor.completions": ("Fields and values", "Campos y valores"),
    "page.help.required": ("required", "obligatorio"),
    "page.help.none": ("The contract says nothing about this place.", "El contrato no dice nada de este lugar."),
    "page.help.range": ("Plausible: {least} to {greatest}.", "Verosímil: de {least} a {greatest}."),
    "page.help.values": ("Values:", "Valores:"),
    "page.faults.title": ("To fix in the request", "Por corregir en la solicitud"),
    "page.faults.not_here": ("“{text}” can't be here in JSON.", "“{text}” no puede estar aquí en JSON."),
    "page.faults.missing": (
        "Something is missing here: a value, comma, quote or bracket.",
        "Aquí falta algo: un valor, una coma, unas comillas o un corchete.",
    ),
    # how the call fares
    "page.answer": ("Answer", "Respuesta"),
    "page.status.begin": ("Loading the examples …", "Cargando los ejemplos …"),
    "page.status.asking": ("Asking the service …", "Consultando el servicio …"),
    "page.status.answered": ("Answered; up to date with the request.", "Respondido; al día con la solicitud."),
    "page.status.not_json": (
        "The request isn't JSON yet; the list below the editor says where.",
        "La solicitud aún no es JSON; la lista bajo el editor dice dónde.",
    ),
    "page.status.stale": (
        "What is shown belongs to the previous request.",
        "Lo que se muestra es de la solicitud anterior.",
    ),
    "page.status.unreachable": (
        "The service can't be reached or took too long.",
        "No se puede llegar al servicio o tardó demasiado.",
    ),
    "page.status.unreadable": (
        "What came back isn't an answer of this service.",
        "Lo que llegó no es una respuesta de este servicio.",
    ),
    "page.status.not_shown": ("The page can't show this.", "La página no puede mostrar esto."),
    "page.status.failed": (
        "The service answered with status {status}.",
        "El servicio respondió con el estado {status}.",
    ),
    "page.status.again": ("Try again", "Intentar de nuevo"),
    "page.key.wanted": ("This service asks for a key.", "Este servicio pide una clave."),
    "page.key": ("Key", "Clave"),
    "page.key.hint": (
        "From whoever runs this service. This page sends it with each call and forgets it when it is left or reloaded.",
        (
            "De quien opera este servicio. Esta página la envía con cada llamada y la olvida al cerrarse o volver a "
            "cargarse."
        ),
    ),
    "page.key.use": ("Use this key", "Usar esta clave"),
    # the decision
    "page.verdict.go": ("Go", "Adelante"),
    "page.verdict.go_with_trim": ("Go, and cut the leaf", "Adelante, recortando la hoja"),
    "page.verdict.hold": ("Hold", "Espere"),
    "page.verdict.conflict": ("Conflict: somebody has to decide", "Conflicto: alguien tiene que decidir"),
    "page.verdict.fine": ("Fine as it is", "Bien como está"),
    "page.verdict.live_with": ("May be left as it is", "Puede quedar como está"),
    "page.verdict.work": ("Needs work", "Necesita trabajo"),
    "page.answer.conflicts": ("Conflicts", "Conflictos"),
    "page.answer.findings": ("What is wrong", "Qué está mal"),
    "page.answer.remedies": ("What fixes it", "Qué lo corrige"),
    "page.answer.do_nothing": ("If nothing is done", "Si no se hace nada"),
    "page.answer.questions": ("Questions", "Preguntas"),
    "page.answer.cautions": ("Cautions", "Precauciones"),
    "page.answer.assumptions": ("What was assumed", "Qué se supuso"),
    "page.answer.head_lines": ("Head lines", "Líneas de cabezales"),
    "page.answer.open_doors": ("Decided or answered first", "Antes se decide o contesta"),
    "page.answer.fixes": ("What fixes them", "Qué los corrige"),
    "page.answer.openings": ("Openings", "Vanos"),
    "page.answer.rules": ("Rules", "Reglas"),
    "page.answer.asks": ("To ask: {who}.", "Preguntar a: {who}."),
    "page.answer.decides": ("Decides: {who}.", "Decide: {who}."),
    "page.answer.worth": ("Worth {minutes} min.", "Vale {minutes} min."),
    "page.answer.minutes": ("{minutes} min.", "{minutes} min."),
    # drawing and sheets
    "page.drawing": ("Drawing", "Dibujo"),
    "page.drawing.hint": ("Choose a dimension to see its rule.", "Elija una cota para ver su regla."),
    "page.drawing.failed": ("The drawing can't be shown: {why}", "El dibujo no se puede mostrar: {why}"),
    "page.sheet": ("To print", "Para imprimir"),
    "page.sheet.print": ("Sheet to print", "Hoja para imprimir"),
    "page.sheet.pdf": ("PDF", "PDF"),
    "page.sheet.asking": ("Making the sheet …", "Preparando la hoja …"),
    "page.sheet.opened": ("The sheet is open in a window of its own.", "La hoja está abierta en su propia ventana."),
    "page.sheet.saved": ("The sheet is in your downloads.", "La hoja está entre sus descargas."),
    # numbers
    "page.numbers": ("Numbers that matter", "Números que importan"),
    "page.numbers.hint": ("Choose a number to see its rule.", "Elija un número para ver su regla."),
    "page.number.range": ("{least} to {greatest}", "de {least} a {greatest}"),
    "page.number.setting-foot": ("Legs above the subfloor", "Jambas sobre el subpiso"),
    "page.number.setting-hinge-leg-block": ("Block under the hinge leg", "Calza bajo la jamba de bisagras"),
    "page.number.setting-hinge-leg-trim": ("Cut off the hinge leg", "Recorte de la jamba de bisagras"),
    "page.number.setting-strike-leg-block": ("Block under the strike leg", "Calza bajo la jamba de cerradura"),
    "page.number.setting-strike-leg-trim": ("Cut off the strike leg", "Recorte de la jamba de cerradura"),
    "page.number.setting-second-hinge-leg-block": (
        "Block under the second hinge leg",
        "Calza bajo la segunda jamba de bisagras",
    ),
    "page.number.setting-second-hinge-leg-trim": (
        "Cut off the second hinge leg",
        "Recorte de la segunda jamba de bisagras",
    ),
    "page.number.setting-head-height": ("Head above the subfloor", "Cabezal del marco sobre el subpiso"),
    "page.number.found-hinge-foot": ("Hinge leg as found", "Jamba de bisagras, hallada"),
    "page.number.found-strike-foot": ("Strike leg as found", "Jamba de cerradura, hallada"),
    "page.number.found-leaf-bottom": ("Leaf's bottom as found", "Borde inferior de la hoja, hallado"),
    "page.number.found-undercut": ("Undercut as found", "Rebaje inferior, hallado"),
    "page.number.found-trimmed": ("Cut off already", "Ya recortado"),
    "page.number.leaf-bottom": ("Leaf's bottom above the subfloor", "Borde inferior de la hoja sobre el subpiso"),
    "page.number.leaf-trim": ("Trim off the leaf", "Recorte de la hoja"),
    "page.number.leaf-trim-now": ("Of that, cut now", "De él, cortar ahora"),
    "page.number.clearance-pull-side": ("Clearance, pull side", "Holgura, lado de jalar"),
    "page.number.clearance-push-side": ("Clearance, push side", "Holgura, lado de empujar"),
    "page.number.clearance-piece": ("Clearance over the piece", "Holgura sobre la pieza"),
    "page.number.air-gap": ("Gap that air passes", "Paso de aire"),
    "page.number.air-supply-flow": ("Air supplied", "Aire suministrado"),
    "page.number.air-flow-at-limit": ("Air that passes at the limit", "Aire que pasa en el límite"),
    "page.number.air-pressure-at-supply": ("Pressure at the air supplied", "Presión con el aire suministrado"),
    "page.number.air-shortfall": ("Air that doesn't pass", "Aire que no pasa"),
    "page.number.flooring-pull-side-jamb-undercut": (
        "Jamb undercut, pull side",
        "Corte inferior de jamba, lado de jalar",
    ),
    "page.number.flooring-push-side-jamb-undercut": (
        "Jamb undercut, push side",
        "Corte inferior de jamba, lado de empujar",
    ),
    "page.number.transition-rise": ("Rise of the transition piece", "Resalte de la pieza de transición"),
    "page.number.framing-rough-opening-needed": ("Rough opening needed", "Vano en bruto necesario"),
    "page.number.framing-short-by": ("Rough opening too low by", "Al vano en bruto le falta en alto"),
    "page.number.framing-width-short-by": ("Rough opening too narrow by", "Al vano en bruto le falta en ancho"),
    "page.number.order-undercut-to-order": ("Undercut to order", "Rebaje inferior por pedir"),
    # the rule panel
    "page.rule.title": ("Rules", "Reglas"),
    "page.rule.close": ("Close", "Cerrar"),
    "page.rule.looking": ("Looking the rules up …", "Buscando las reglas …"),
    "page.rule.governs": ("What this number follows from:", "De dónde sale este número:"),
    "page.rule.checked": (
        "The service names no rule that set this number. The tightest of those checked against it:",
        "El servicio no nombra ninguna regla que fijara este número. La más ajustada de las que se le aplican:",
    ),
    "page.rule.no_rule": (
        "The service names no rule for this number: it follows from what was sent.",
        "El servicio no nombra ninguna regla para este número: sale de lo que se envió.",
    ),
    "page.rule.project": ("The project's own value: {name}", "Valor propio del proyecto: {name}"),
    "page.rule.force": ("Force", "Fuerza"),
    "page.rule.document": ("Document", "Documento"),
    "page.rule.clause": ("Clause", "Cláusula"),
    "page.rule.edition": ("Edition", "Edición"),
    "page.rule.verified": ("How verified", "Cómo se verificó"),
    "page.rule.id": ("Id", "Identificador"),
    "page.rule.limit": ("limit {text}", "límite {text}"),
    "page.rule.actual": ("here {text}", "aquí {text}"),
    "page.rule.margin": ("margin {text}", "margen {text}"),
    "page.force.law": ("law", "ley"),
    "page.force.standard": ("standard", "norma"),
    "page.force.programme": ("programme", "programa"),
    "page.force.project": ("project", "proyecto"),
    "page.force.practice": ("practice", "práctica"),
    "page.force.preference": ("preference", "preferencia"),
    "page.verified.read": ("read at its issuer", "leída en su fuente"),
    "page.verified.quoted": ("as quoted by others", "leída en cita de otros"),
    "page.verified.memory": ("from memory, not checked", "de memoria, sin verificar"),
    "page.verified.none": ("no published source", "sin fuente publicada"),
    "page.status.pass": ("kept", "se cumple"),
    "page.status.fail": ("missed", "no se cumple"),
    "page.status.relaxed": ("relaxed", "se renuncia a ella"),
    "page.status.not_checked": ("not checked", "sin verificar"),
    # what if
    "page.what_if": ("What if the floor were different", "¿Y si el piso fuera otro?"),
    "page.what_if.hint": (
        "Changes the top layer in the request and asks the service again.",
        "Cambia la capa superior en la solicitud y vuelve a consultar el servicio.",
    ),
    "page.what_if.finish": ("Finish", "Acabado"),
    "page.what_if.thickness": ("Thickness", "Espesor"),
    "page.what_if.typical": ("{text}, typical", "{text}, típico"),
    "page.what_if.no_floor": ("No floor is named on this side.", "No se nombra ningún piso en este lado."),
    "page.what_if.leg_shows": (
        "Daylight shows under the legs on the {side}.",
        "Debajo de las jambas se ve luz en el {side}.",
    ),
    "page.what_if.rubs": ("The leaf rubs on the {side}.", "La hoja roza en el {side}."),
    "page.what_if.rubs_piece": ("The leaf rubs on the piece.", "La hoja roza con la pieza."),
    "page.what_if.trimmed": ("The leaf is cut by {text}.", "La hoja se recorta {text}."),
    "page.what_if.whole": ("The leaf stays uncut.", "La hoja queda sin recortar."),
    "page.what_if.same": (
        "No number differs from the request as picked or pasted.",
        "Ningún número difiere de la solicitud elegida o pegada.",
    ),
    "page.what_if.changed": (
        "Against the request as picked or pasted: {list}.",
        "Frente a la solicitud elegida o pegada: {list}.",
    ),
    "page.what_if.now_was": ("{name} {is}, was {was}", "{name} {is}, era {was}"),
    "page.what_if.more": ("And {count} more.", "Y {count} más."),
    "page.what_if.none": ("none", "ninguno"),
    "page.what_if.verdict": ("verdict", "dictamen"),
    # the answer as it is, and the calls
    "page.json": ("The answer as JSON", "La respuesta en JSON"),
    "page.calls": ("The call that gave it", "La llamada que la dio"),
    "page.copy": ("Copy", "Copiar"),
    "page.copy.named": ("Copy {named}", "Copiar {named}"),
    "page.copy.done": ("Copied: {named}.", "Copiado: {named}."),
    "page.copy.failed": ("Couldn't copy: {named}.", "No se pudo copiar: {named}."),
    "page.copy.json": ("the JSON answer", "la respuesta JSON"),
    "page.copy.curl": ("the curl call", "la llamada de curl"),
    "page.copy.Python": ("the Python call", "la llamada de Python"),
    "page.copy.TypeScript": ("the TypeScript call", "la llamada de TypeScript"),
}
_SHARED = (
    *((f"page.who.{who}", f"code.{who}") for who in Asked),
    *((f"page.side.{side}", f"code.{side}") for side in SIDES),
    *((code.replace("standing.", "page.rule."), code) for code in SHEET if code.startswith("standing.")),
)
"""Codes of words that sheets say too, each with theirs."""
PAGE = _OWN | {code: SHEET[theirs] for code, theirs in _SHARED}
"""English, then Spanish, by code; `{name}` stands for what the page's script puts there."""
