// Her printer and her clay, measured: the forms whose numbers go into the room file.

import { capital, element } from "./answer.js"
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
  const title = `${form.id}-title`
  const made = element("form", "", { class: "fields", novalidate: "", "aria-labelledby": title, id: form.id })
  const result = element("p", "", { class: "answer", role: "status" })
  const values = Object.fromEntries(form.fields.map(({ name, written }) => [name, written ?? ""]))
  const fields = {}

  const show = (answer) => {
    for (const [name, field] of Object.entries(fields)) field.problems(answer.problems.filter((problem) => problem.field === name))
    const others = answer.problems.filter(({ field }) => !fields[field]).map(({ what, hint }) => [what, hint].filter(Boolean).join(" "))
    result.textContent = [answer.result, ...others].join(" ")
  }
  const refused = (fault) => show({ problems: fault.problems, result: capital(fault.message) })
  const question = (tried) => ask("room", { mark, form: form.id, values, try: tried })
  // while she is still filling in, an empty field is no fault
  const shownSoFar = (answer) => show({ ...answer, problems: answer.problems.filter(({ field }) => values[field] !== "") })
  const follow = follower(() => question(true), shownSoFar, refused)

  const hinted = new Set()
  const rows = groupsOf(form.fields).map(([group, members]) => {
    const shown = members.map((field) => {
      const label = group ? field.label.slice(group.length + 2) : field.label
      const one = textField(`${form.id}-${field.name}`, { label: capital(label), hint: group ? "" : capital(field.hint), written: field.written ?? "" },
        (words) => { values[field.name] = words; follow() })
      fields[field.name] = one
      return one.row
    })
    if (!group) return shown[0]
    const set = element("fieldset")
    const side = element("div", "", { class: "side" })
    side.append(...shown)
    set.append(element("legend", group))
    const { hint } = members[0]
    if (!hinted.has(hint)) set.append(element("p", capital(hint), { class: "hint" }))
    hinted.add(hint)
    set.append(side)
    return set
  })
  const sheet = element("button", "Get the sheet to measure", { type: "button" })
  sheet.addEventListener("click", () => download("room/paper", { form: form.id }).then((name) => { result.textContent = `${name} is in your downloads.` }, refused))
  const first = element("p", "", { class: "buttons" })
  first.append(sheet)
  const last = element("p", "", { class: "buttons" })
  last.append(element("button", "Write into my room file", { class: "main" }))
  made.append(element("h2", form.title, { id: title }), element("p", form.about), first, ...rows, result, last)
  made.addEventListener("submit", async (event) => {
    event.preventDefault()
    try {
      const answer = await question(false)
      show(answer)
      if (!answer.problems.length) await written(form.id, answer.result)
    } catch (fault) {
      refused(fault)
    }
  })
  return made
}

/** The forms are read again: what was new in the file is now old. */
async function written(id, result) {
  await openRoom()
  const form = document.getElementById(id)
  form.querySelector("button.main").focus()
  form.querySelector(".answer").textContent = `Written into your room file. ${result}`
}

/** Fields whose labels begin alike ("Bar 1, wet", "Bar 1, dry") stand side by side: [common words or "", fields] each. */
function groupsOf(fields) {
  const groups = []
  for (const field of fields) {
    const group = field.name.includes(".") ? field.label.split(", ")[0] : ""
    const last = groups.at(-1)
    if (group && last?.[0] === group) last[1].push(field)
    else groups.push([group, [field]])
  }
  return groups
}
