// Fields with their labels, hints and the words beside them when something is wrong.

import { element, SEVERITY, unbroken } from "./answer.js"

/** A labelled control: { row, control, problem(list) }. */
function labelled(control, id, label, hint) {
  const row = element("div", "", { class: "field" })
  const told = [hint ? `${id}-hint` : "", `${id}-problem`].filter(Boolean).join(" ")
  control.id = id
  control.setAttribute("aria-describedby", told)
  row.append(element("label", label, { for: id }))
  if (hint) row.append(element("span", hint, { id: `${id}-hint`, class: "hint" }))
  const beside = element("div", "", { id: `${id}-problem`, class: "beside" })
  row.append(control, beside)
  return { row, control, label, problems: (list) => showBeside(control, beside, list) }
}

export function textField(id, { label, hint, written, placeholder = "" }, typed) {
  const control = element("input", "", { type: "text", autocomplete: "off", spellcheck: "false", placeholder })
  control.value = written
  control.addEventListener("input", () => typed(control.value))
  return labelled(control, id, label, hint)
}

/** `options`: [value, words] each; the value "" stands for the usual. */
export function choiceField(id, { label, hint, options, chosen }, changed) {
  const control = element("select")
  for (const [value, words] of options) control.append(element("option", words, { value }))
  control.value = chosen ?? ""
  control.addEventListener("change", () => changed(control.value || null))
  return labelled(control, id, label, hint)
}

/** Boxes to tick, any number of them. */
export function tickField(id, { label, options, chosen }, changed) {
  const row = element("fieldset", "", { class: "field ticks", "aria-describedby": `${id}-problem` })
  row.id = id
  row.tabIndex = -1
  row.append(element("legend", label))
  const boxes = options.map(([value, words]) => {
    const line = element("label")
    const box = element("input", "", { type: "checkbox", value })
    box.checked = chosen.includes(value)
    box.addEventListener("change", () => changed(boxes.filter((one) => one.checked).map((one) => one.value)))
    line.append(box, words)
    row.append(line)
    return box
  })
  const beside = element("div", "", { id: `${id}-problem`, class: "beside" })
  row.append(beside)
  return { row, control: row, label, problems: (list) => showBeside(null, beside, list) }
}

export function showBeside(control, beside, problems) {
  const words = problems.map(({ severity = "error", what, hint }) => {
    const line = element("p", "", { class: severity })
    line.append(element("strong", SEVERITY[severity]), unbroken([what, hint].filter(Boolean).join(" ")))
    return line
  })
  beside.replaceChildren(...words)
  if (control && problems.some((problem) => (problem.severity ?? "error") === "error")) control.setAttribute("aria-invalid", "true")
  else control?.removeAttribute("aria-invalid")
}
