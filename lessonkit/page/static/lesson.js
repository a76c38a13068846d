// One lesson: what she may change on the left, the paper as it comes out beside it.

import { capital, element, Result } from "./answer.js"
import { choiceField, textField, tickField } from "./fields.js"
import { ask, download, follower } from "./server.js"

const MORE = new Set(["joins", "press", "hang", "rounded", "ring", "row", "at", "cut_away", "from_edge", "start", "end"])
const at = (id) => document.getElementById(id)

/** What was typed and is not kept yet, by file. It outlives a look at the shelf. */
const drafts = new Map()

const choices = { paper: null, units: null, group: null, levels: null, card_format: null, reading: null, languages: [] }

let shelf
let lesson
let result
let fields = {}
let kept = () => {}
let saved = "" // what is said once the lesson is open again

export const anythingUnkept = () => [...drafts.values()].some((draft) => draft.changes.size || draft.clay)
export const isUnkept = (file) => Boolean(drafts.get(file)?.changes.size || drafts.get(file)?.clay)

const draft = () => drafts.get(lesson.file)

/** `whenKept(file)` is told of each file that was written. */
export function prepareLessons(theShelf, whenKept) {
  shelf = theShelf
  kept = whenKept
  result = new Result(document.querySelector("#lesson-view .result"), "lesson", { papers: shelf.papers, changed: paperChosen })
  buildChoices()
  paperChosen()
  for (const form of ["lesson-form", "choices-form"]) at(form).addEventListener("submit", (event) => event.preventDefault())
  result.find(".print .one").addEventListener("click", () => get(result.show))
  result.find(".print .all").addEventListener("click", () => get(null))
  at("save").addEventListener("click", () => isUnkept(lesson.file) && save(null))
  at("undo").addEventListener("click", () => isUnkept(lesson.file) && undo())
  at("to-keep").addEventListener("click", () => at("save").focus())
  at("read-again").addEventListener("click", readAgain)
  at("save-as-form").addEventListener("submit", (event) => {
    event.preventDefault()
    saveAs()
  })
}

export async function openLesson(file) {
  const found = await ask(`lesson?file=${encodeURIComponent(file)}`)
  if (decodeURIComponent(location.hash) !== `#lesson=${file}`) return "" // she has gone on meanwhile
  lesson = found
  if (!drafts.has(file)) drafts.set(file, { changes: new Map(), clay: null })
  at("lesson-title").textContent = lesson.title
  at("lesson-about").textContent = shelf.lessons.find((one) => one.file === file)?.about ?? ""
  at("save").textContent = `Save into ${file}`
  at("save-as").value = `my-${file.replace(/^.*\//, "").replace(/\.ya?ml$/, "")}`
  at("save-answer").textContent = saved
  result.find(".print .answer").textContent = saved = ""
  at("elsewhere").hidden = true
  result.clear()
  buildFields()
  follow()
  return lesson.title
}

function buildFields() {
  for (const id of Object.keys(fields)) if (/^\d+$/.test(id)) delete fields[id]
  const rows = lesson.fields.map((field) => ({ field, row: fieldRow(field) }))
  const ofLesson = (first) => rows.filter(({ field }) => field.piece === null && (field.path[0] === "thickness") === first).map(({ row }) => row)
  const pieces = new Set(rows.map(({ field }) => field.piece).filter((piece) => piece !== null))
  at("pieces").replaceChildren(...[...pieces].map((piece) => pieceGroup(piece, rows.filter(({ field }) => field.piece === piece))))
  at("name-fields").replaceChildren(element("legend", "Its name"), ...ofLesson(false))
  at("name-fields").hidden = at("name-fields").children.length < 2
  const clays = shelf.room.clays.map(({ name, fired_to: cone, shrinkage }) => [name, [name, cone, shrinkage].filter(Boolean).join(", ")])
  const usual = lesson.clay ? `As written: ${lesson.clay}` : "As the lesson says"
  fields.clay = choiceField("choose-clay", { label: "Which clay", options: [["", usual], ...clays.filter(([name]) => name !== lesson.clay)], chosen: draft().clay },
    (name) => { draft().clay = name; touched() })
  at("clay-fields").replaceChildren(element("legend", "Clay"), fields.clay.row, ...ofLesson(true))
  count()
}

/** The sizes of one piece: those of its outline are seen at once, what is joined, pressed or hung on opens when she asks. */
function pieceGroup(piece, rows) {
  const group = element("fieldset")
  const isMore = ({ field }) => field.path.some((word) => MORE.has(word))
  group.append(element("legend", `${capital(piece)}: sizes after firing`), ...rows.filter((one) => !isMore(one)).map(({ row }) => row))
  const more = rows.filter(isMore)
  if (more.length) {
    const details = element("details")
    details.append(element("summary", `More of the ${piece}`), ...more.map(({ row }) => row))
    details.open = more.some(({ field }) => draft().changes.has(JSON.stringify(field.path)))
    group.append(details)
  }
  return group
}

function fieldRow(field) {
  const key = JSON.stringify(field.path)
  const usual = field.missing ? field.written : ""
  const hint = [field.hint === "fired size" ? "" : field.hint, usual && `left empty it is ${usual}`].filter(Boolean).join("; ")
  const made = textField(`field-${field.id}`, {
    label: field.piece === null ? field.label : withoutPiece(field),
    hint: capital(hint),
    written: draft().changes.get(key)?.written ?? (field.missing ? "" : field.written),
    placeholder: usual,
  }, (written) => typed(field, key, written))
  fields[field.id] = { ...made, label: field.label }
  return made.row
}

function withoutPiece({ label, piece }) {
  const start = `${piece}, `
  return label.toLowerCase().startsWith(start.toLowerCase()) ? capital(label.slice(start.length)) : label
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
  const words = n ? `${n} change${n === 1 ? "" : "s"} not kept.` : "Nothing is changed."
  const status = at("changed").firstElementChild
  if (status.textContent !== words) status.textContent = words
  at("to-keep").hidden = n === 0
  for (const id of ["save", "undo"]) at(id).setAttribute("aria-disabled", n === 0) // not `disabled`: the cursor would be lost with it
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
  at("choices").append(
    choice("group", "Group", room.groups.length ? room.groups.map(({ name }, i) => [i ? name : "", name]) : [["", "Whoever comes"]],
      "The clay is counted for them."),
    tick("levels", "Levels", pairs(room.levels), levels, (ticked) => {
      choices.levels = ticked.length === levels.length ? null : ticked
      fields.levels.problems(ticked.length ? [] : [{ what: "No level is ticked.", hint: "Tick one or more." }])
      if (ticked.length) follow()
    }),
    choice("paper", "Paper", room.papers.map((name, i) => [i ? name : "", name])),
    choice("units", "Units", [["mm", "Millimetres"], ["in", "Inches"]].map(([id, name]) => [id === room.units ? "" : id, name])),
    choice("card_format", "Step cards", withUsual(shelf.card_formats, "The usual size")),
    choice("reading", "Words on the cards", withUsual(shelf.readings, "As the level says")))
  if (room.languages.length > 1) {
    at("choices").append(tick("languages", "Languages on the cards", pairs(room.languages), [room.language],
      (ticked) => { choices.languages = ticked; follow() }))
  }
}

const withUsual = (things, words) => [["", words], ...things.map(({ id, name }) => [id, capital(name)])]

function order(extra) {
  const { changes, clay } = draft()
  return { file: lesson.file, mark: lesson.mark, changes: [...changes.values()], clay, ...choices, ...extra }
}

const follow = follower(
  (turn) => ask("try", order({ show: result.show, pages: [result.page, result.page], turn })),
  (answer) => {
    for (const [id, field] of Object.entries(fields)) field.problems(answer.problems.filter((problem) => problem.field === id))
    result.paint(answer, { nameOf: (id) => fields[id]?.label ?? "", goTo })
  },
  (fault) => {
    if (fault.status === 409) changedElsewhere(fault)
    else if (fault.status) result.paint({ problems: [{ severity: "error", what: fault.message, field: null }], pages: [] }, { nameOf: () => "", goTo })
  })

function goTo(id) {
  const control = fields[id]?.control
  const closed = control?.closest("details")
  if (closed) closed.open = true
  control?.focus()
}

function paperChosen() {
  result.find(".print .one").textContent = `${result.showName}, as a PDF`
  if (lesson) follow()
}

async function get(only) {
  const answer = result.find(".print .answer")
  answer.textContent = "Drawing…"
  try {
    answer.textContent = `${await download("paper", order({ only }))} is in your downloads.`
  } catch (fault) {
    answer.textContent = told(fault)
  }
}

const told = (fault) => [capital(fault.message), ...fault.problems.map(({ what, hint }) => [what, hint].filter(Boolean).join(" "))].join(" ")

function undo() {
  drafts.set(lesson.file, { changes: new Map(), clay: null })
  buildFields()
  follow()
}

async function save(as) {
  const { changes, clay } = draft()
  const file = lesson.file
  try {
    const written = await ask("save", { file, mark: lesson.mark, changes: [...changes.values()], clay, as })
    drafts.delete(file)
    await kept(written.file)
    saved = `Saved in ${written.file}.`
    if (as) location.hash = `lesson=${encodeURIComponent(written.file)}`
    else await openLesson(file)
  } catch (fault) {
    at("save-answer").textContent = told(fault)
    if (fault.status === 409 && !as) changedElsewhere(fault)
  }
}

function saveAs() {
  const name = at("save-as").value.trim()
  if (!name) at("save-answer").textContent = "Give it a name first, such as my-porthole."
  else save(/\.ya?ml$/.test(name) ? name : `${name}.yaml`)
}

/** The file on the disk is no longer the one that was read here. */
function changedElsewhere(fault) {
  at("elsewhere").hidden = false
  at("elsewhere").querySelector("p").textContent = capital(fault.message)
}

async function readAgain() {
  await openLesson(lesson.file)
  at("save-answer").textContent = "Read again. What you typed is still here: look at it, then save."
}
