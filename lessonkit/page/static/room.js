// Her printer and her clay, measured: the forms whose numbers go into the room file.

import { element } from "./answer.js"
import { textField } from "./fields.js"
import { ask, download, follower } from "./server.js"

let mark

export async function openRoom() {
  const room = await ask("room")
  mark = room.mark
  document.getElementById("room-forms").replaceChildren(...room.forms.map(formOf))
  return "Printer and clay"
}

function formOf(form) {
  const values = Object.fromEntries(form.fields.map(({ name, written }) => [name, written ?? ""]))
  const made = element("form", "", { class: "fields", novalidate: "", "aria-labelledby": `${form.id}-title` })
  const result = element("p", "", { class: "answer", role: "status" })
  const fields = {}

  const problems = (list) => {
    for (const [name, field] of Object.entries(fields)) field.problems(list.filter((problem) => problem.field === name))
  }
  const show = (answer) => {
    problems(answer.problems)
    result.textContent = answer.result
  }
  const refused = (fault) => {
    problems(fault.problems)
    result.textContent = fault.message
  }
  const question = (tried) => ask("room", { mark, form: form.id, values, try: tried })
  const follow = follower(() => question(true), show, refused)

  for (const { name, label, hint, written } of form.fields) {
    fields[name] = textField(`${form.id}-${name}`, { label, hint, written: written ?? "" }, (words) => { values[name] = words; follow() })
  }
  const sheet = element("button", "Get the sheet to measure, as a PDF", { type: "button" })
  sheet.addEventListener("click", () => download("room/paper", { form: form.id }).then((name) => { result.textContent = `${name} is in your downloads.` }, refused))
  const buttons = element("p", "", { class: "buttons" })
  buttons.append(element("button", "Write into my room file", { class: "main" }), sheet)
  made.append(element("h2", form.title, { id: `${form.id}-title` }), element("p", form.about), ...Object.values(fields).map(({ row }) => row), result, buttons)
  made.addEventListener("submit", async (event) => {
    event.preventDefault()
    try {
      const answer = await question(false)
      show(answer)
      if (answer.problems.length) return
      mark = answer.mark
      result.textContent = `Written into your room file. ${answer.result}`
    } catch (fault) {
      refused(fault)
    }
  })
  return made
}
