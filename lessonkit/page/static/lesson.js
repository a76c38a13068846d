// One lesson: what she may change on the left, the paper as it comes out beside it.

import { element, Result, say } from "./answer.js"
import { choiceField, textField, tickField } from "./fields.js"
import { ask, download, follower } from "./server.js"

const USUAL = "As the lesson says"
const at = (id) => document.getElementById(id)

/** What was typed and is not kept yet, by file. It outlives a look at the shelf. */
const drafts = new Map()

const choices = { paper: null, units: null, group: null, levels: null, card_format: null, reading: null, languages: [] }

let shelf
let lesson
let result
let fields = {}

export const anythingUnkept = () => [...drafts.values()].some((draft) => draft.changes.size || draft.clay)
export const isUnkept = (file) => Boolean(drafts.get(file)?.changes.size || drafts.get(file)?.clay)

const draft = () => drafts.get(lesson.file)

export function prepareLessons(theShelf) {
  shelf = theShelf
  result = new Result(document.querySelector("#lesson-view .result"), "lesson", { papers: shelf.papers, changed: paperChosen })
  buildChoices()
  paperChosen()
  at("lesson-form").addEventListener("submit", (event) => event.preventDefault())
  at("get-one").addEventListener("click", () => get(result.show))
  at("get-all").addEventListener("click", () => get(null))
  at("save").addEventListener("click", () => save(null))
  at("undo").addEventListener("click", undo)
  at("read-again").addEventListener("click", readAgain)
  at("save-as-form").addEventListener("submit", (event) => {
    event.preventDefault()
    saveAs()
  })
}

export async function openLesson(file) {
  lesson = await ask(`lesson?file=${encodeURIComponent(file)}`)
  if (!drafts.has(file)) drafts.set(file, { changes: new Map(), clay: null })
  at("lesson-title").textContent = lesson.title
  at("lesson-about").textContent = shelf.lessons.find((one) => one.file === file)?.about ?? ""
  at("save").textContent = `Save into ${file}`
  at("save-as").value = `my-${file.replace(/^.*\//, "").replace(/\.ya?ml$/, "")}`
  for (const id of ["save-answer", "papers-answer"]) at(id).textContent = ""
  at("read-again").hidden = true
  result.page = 1
  result.sizesInWords = undefined
  buildFields()
  follow()
  return lesson.title
}

function buildFields() {
  for (const id of Object.keys(fields)) if (/^\d+$/.test(id)) delete fields[id]
  const pieces = new Map()
  const whole = []
  for (const field of lesson.fields) {
    const key = JSON.stringify(field.path)
    const now = draft().changes.get(key)?.written ?? (field.missing ? "" : field.written)
    const placeholder = field.missing ? field.written : ""
    const hint = field.missing && field.written ? `${field.hint}; left empty it is ${field.written}` : field.hint
    const made = textField(`field-${field.id}`, { label: field.label, hint, written: now, placeholder }, (written) => typed(field, key, written))
    fields[field.id] = made
    if (field.piece === null) whole.push(made.row)
    else pieces.set(field.piece, [...(pieces.get(field.piece) ?? []), made.row])
  }
  at("pieces").replaceChildren(...[...pieces].map(([piece, rows]) => {
    const group = element("fieldset")
    group.append(element("legend", `Sizes after firing: ${piece}`), ...rows)
    return group
  }))
  const clays = shelf.room.clays.map(({ name, fired_to: cone, shrinkage }) => [name, [name, cone, shrinkage].filter(Boolean).join(", ")])
  fields.clay = choiceField("choose-clay", { label: "Clay", options: [["", lesson.clay ? `As the lesson says: ${lesson.clay}` : USUAL], ...clays], chosen: draft().clay },
    (name) => { draft().clay = name; touched() })
  at("clay-fields").replaceChildren(element("legend", "Clay"), fields.clay.row, ...whole)
  count()
}

function typed(field, key, written) {
  const same = written === (field.missing ? "" : field.written)
  if (same) draft().changes.delete(key)
  else draft().changes.set(key, { path: field.path, written })
  touched()
}

function touched() {
  count()
  follow()
}

function count() {
  const n = draft().changes.size + (draft().clay ? 1 : 0)
  const words = n ? `${n === 1 ? "One change is" : `${n} changes are`} not kept yet.` : "Nothing is changed."
  if (at("changed").textContent !== words) at("changed").textContent = words
  at("save").disabled = at("undo").disabled = n === 0
}

function buildChoices() {
  const { room } = shelf
  const choice = (name, label, options, hint) => {
    fields[name] = choiceField(`choose-${name}`, { label, hint, options, chosen: choices[name] }, (value) => { choices[name] = value; follow() })
    return fields[name].row
  }
  const tick = (name, label, options, chosen, onTick) => {
    fields[name] = tickField(`choose-${name}`, { label, options, chosen }, onTick)
    return fields[name].row
  }
  const pairs = (things) => things.map(({ id, name }) => [id, name])
  const levels = room.levels.map(({ id }) => id)
  at("class-fields").append(
    choice("group", "Group", [["", "No group yet"], ...room.groups.map(({ name }) => [name, name])], "For how many the clay is counted."),
    tick("levels", "Levels", pairs(room.levels), levels, (ticked) => {
      choices.levels = ticked.length === levels.length ? null : ticked
      fields.levels.problems(ticked.length ? [] : [{ what: "No level is ticked.", hint: "Tick one or more." }])
      if (ticked.length) follow()
    }))
  at("print-fields").append(
    choice("paper", "Paper", room.papers.map((name, i) => [i ? name : "", name])),
    choice("units", "Units", [["mm", "Millimetres"], ["in", "Inches"]].map(([id, name]) => [id === room.units ? "" : id, name])),
    choice("card_format", "Step cards", withUsual(shelf.card_formats, "The usual size")),
    choice("reading", "Words on the cards", withUsual(shelf.readings, "As the level says")))
  if (room.languages.length > 1) {
    at("print-fields").append(tick("languages", "Languages on the cards", pairs(room.languages), [room.language],
      (ticked) => { choices.languages = ticked; follow() }))
  }
}

const withUsual = (things, words) => [["", words], ...things.map(({ id, name }) => [id, name])]

function order(extra) {
  const { changes, clay } = draft()
  return { file: lesson.file, mark: lesson.mark, changes: [...changes.values()], clay, ...choices, ...extra }
}

const follow = follower(
  (turn) => ask("try", order({ show: result.show, pages: [result.page, result.page], turn })),
  (answer) => {
    for (const [id, field] of Object.entries(fields)) field.problems(answer.problems.filter((problem) => problem.field === id))
    result.paint(answer, { nameOf: (id) => fields[id]?.label ?? "", goTo: (id) => fields[id]?.control.focus() })
  },
  (fault) => say(fault.message))

function paperChosen() {
  at("get-one").textContent = `${result.showName}, as a PDF`
  if (lesson) follow()
}

async function get(only) {
  at("papers-answer").textContent = "Drawing…"
  try {
    const name = await download("paper", order({ only }))
    at("papers-answer").textContent = `${name} is in your downloads.`
  } catch (fault) {
    at("papers-answer").textContent = told(fault)
  }
}

const told = (fault) => [fault.message, ...fault.problems.map(({ what, hint }) => [what, hint].filter(Boolean).join(" "))].join(" ")

function undo() {
  drafts.set(lesson.file, { changes: new Map(), clay: null })
  buildFields()
  follow()
  at("lesson-title").focus()
}

async function save(as) {
  const { changes, clay } = draft()
  const file = lesson.file
  at("read-again").hidden = true
  try {
    const saved = await ask("save", { file, mark: lesson.mark, changes: [...changes.values()], clay, as })
    drafts.delete(file)
    if (as) shelf.lessons.push({ ...shelf.lessons.find((one) => one.file === file), file: saved.file, picture: null })
    if (as) location.hash = `lesson=${encodeURIComponent(saved.file)}`
    else await openLesson(file)
    at("save-answer").textContent = `Saved in ${saved.file}.`
  } catch (fault) {
    at("save-answer").textContent = told(fault)
    at("read-again").hidden = fault.status !== 409 || Boolean(as)
  }
}

function saveAs() {
  const name = at("save-as").value.trim()
  if (!name) at("save-answer").textContent = "Give it a name first, such as my-porthole."
  else save(/\.ya?ml$/.test(name) ? name : `${name}.yaml`)
}

async function readAgain() {
  await openLesson(lesson.file)
  at("save-answer").textContent = "Read again. What you typed is still here: look at it, then save."
}
