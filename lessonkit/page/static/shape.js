// A silhouette of hers, dropped in as an SVG file, becomes a stencil and then a lesson.

import { capital, Result, say } from "./answer.js"
import { showBeside, textField } from "./fields.js"
import { ask, follower } from "./server.js"

const LARGEST = 2_000_000 // letters; the program takes no more than 3 MB at once
const at = (id) => document.getElementById(id)

const values = { name: "", text: "", across: "150 mm", thickness: "", title: "" }
let fields
let result

export function prepareShapes(kept) {
  result = new Result(document.querySelector("#shape-view .result"), "shape", { changed: () => follow() })
  const field = (name, label, hint) => textField(`shape-field-${name}`, { label, hint, written: values[name] }, (written) => { values[name] = written; follow() })
  fields = {
    across: field("across", "How wide, after firing", "With its unit, such as 150 mm or 6 in."),
    thickness: field("thickness", "Slab", "How thick you roll it; left empty, as your sticks are."),
    title: field("title", "What is it called", "The lesson's title, such as Oak Leaf."),
  }
  at("shape-fields").append(...Object.values(fields).map(({ row }) => row))
  const file = at("shape-file")
  file.addEventListener("change", () => { if (file.files.length) take(file.files[0]) })
  for (const kind of ["dragover", "dragleave", "drop"]) document.addEventListener(kind, dragged)
  at("shape-form").addEventListener("submit", (event) => {
    event.preventDefault()
    keep(kept)
  })
}

/** She may let go anywhere on the page: a browser would otherwise leave it and show the file. */
function dragged(event) {
  event.preventDefault()
  at("drop").classList.toggle("over", event.type === "dragover")
  if (event.type !== "drop" || !event.dataTransfer.files.length || at("shape-view").hidden) return
  at("shape-file").files = event.dataTransfer.files
  take(event.dataTransfer.files[0])
}

async function take(file) {
  values.name = file.name
  if (file.size > LARGEST) return atFile([{ what: "This file is larger than 2 MB.", hint: "A silhouette is one closed line: save it without pictures." }])
  values.text = await file.text()
  if (!values.title) {
    const words = file.name.replace(/\.svg$/i, "").replace(/[-_]+/g, " ").trim()
    values.title = fields.title.control.value = capital(words)
  }
  follow()
}

const atFile = (problems) => showBeside(at("shape-file"), at("shape-file-problem"), problems)

const body = (extra) => ({ ...values, thickness: values.thickness || null, ...extra })

const follow = follower(
  (turn) => values.text && ask("silhouette", body({ turn })),
  (answer) => {
    const wrong = answer.problems.some((problem) => problem.severity === "error")
    for (const [name, field] of Object.entries(fields)) field.problems(answer.problems.filter((problem) => problem.field === name))
    atFile(answer.problems.filter((problem) => problem.field === "text"))
    result.paint(answer, { nameOf: (name) => fields[name]?.label ?? "The drawing", goTo: (name) => (fields[name]?.control ?? at("shape-file")).focus() })
    at("shape-keep").disabled = wrong
  },
  (fault) => { at("shape-answer").textContent = fault.message; say(fault.message) })

async function keep(kept) {
  try {
    const { file } = await ask("silhouette", body({ keep: true }))
    await kept(file)
    location.hash = `lesson=${encodeURIComponent(file)}`
  } catch (fault) {
    at("shape-answer").textContent = [fault.message, ...fault.problems.map(({ what, hint }) => `${what} ${hint}`)].join(" ")
  }
}
