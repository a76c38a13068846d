// Which part of the page is shown, and the shelf of lessons.

import { capital, drawing, element } from "./answer.js"
import { anythingUnkept, isUnkept, openLesson, prepareLessons } from "./lesson.js"
import { openRoom } from "./room.js"
import { ask } from "./server.js"
import { prepareShapes } from "./shape.js"

const at = (id) => document.getElementById(id)
const TECHNIQUES = { slab: "Slab", pinch: "Pinch", coil: "Coil" }

let shelf

function showShelf() {
  const groups = new Map()
  for (const lesson of shelf.lessons) groups.set(lesson.technique, [...(groups.get(lesson.technique) ?? []), lesson])
  const order = [...Object.keys(TECHNIQUES), ...groups.keys()]
  const techniques = [...groups.keys()].sort((a, b) => order.indexOf(a) - order.indexOf(b))
  at("shelves").replaceChildren(...techniques.flatMap((technique) => [
    element("h2", TECHNIQUES[technique] ?? technique ?? "Others"), rowOf(groups.get(technique)),
  ]))
  fillPictures()
  return "Lessons"
}

function rowOf(lessons) {
  const row = element("ul", "", { class: "shelf" })
  row.append(...lessons.map((lesson) => {
    const place = element("li")
    const link = element("a", "", { href: `#lesson=${encodeURIComponent(lesson.file)}` })
    const picture = element("span", "", { class: "picture", "data-file": lesson.file })
    link.append(picture, element("strong", lesson.title), element("span", lesson.about ?? ""))
    if (!lesson.sound) link.append(element("em", "Something in it must be mended."))
    if (isUnkept(lesson.file)) link.append(element("em", "Changes not kept yet."))
    place.append(link)
    return place
  }))
  return row
}

/** The small pictures come one after the other, while the shelf is looked at. */
async function fillPictures() {
  for (const place of document.querySelectorAll("[data-file]")) {
    const lesson = shelf.lessons.find((one) => one.file === place.dataset.file)
    if (!place.isConnected || at("shelf-view").hidden) return
    lesson.picture ??= (await fetch(`small?file=${encodeURIComponent(lesson.file)}`).then((answer) => (answer.ok ? answer.text() : ""), () => "")) || ""
    const picture = drawing(lesson.picture)
    if (picture) place.replaceChildren(picture)
  }
}

/** After `file` was written. The pictures of the others are still good. */
async function readShelfAgain(file) {
  const pictures = new Map(shelf.lessons.map((lesson) => [lesson.file, lesson.picture]))
  shelf.lessons = (await ask("shelf")).lessons
  for (const lesson of shelf.lessons) if (lesson.file !== file) lesson.picture = pictures.get(lesson.file)
}

const VIEWS = {
  shelf: ["shelf-view", showShelf],
  lesson: ["lesson-view", openLesson],
  shape: ["shape-view", () => "A shape of your own"],
  room: ["room-view", openRoom],
}

async function go() {
  const [, name, file] = /^#?([^=]*)=?(.*)$/.exec(location.hash)
  const [view, open] = VIEWS[name] ?? VIEWS.shelf
  for (const [id] of Object.values(VIEWS)) at(id).hidden = id !== view
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${name || "shelf"}`) link.setAttribute("aria-current", "page")
    else link.removeAttribute("aria-current")
  }
  try {
    const title = await open(decodeURIComponent(file))
    if (title) document.title = `${title} · lessonkit`
  } catch (fault) {
    tell(fault.message)
  }
  scrollTo(0, 0)
  at(view).querySelector("h1").focus({ preventScroll: true })
}

function tell(words) {
  at("told").textContent = capital(words)
  at("told").hidden = !words
}

document.addEventListener("tell", ({ detail }) => tell(detail))
addEventListener("beforeunload", (event) => { if (anythingUnkept()) event.preventDefault() })
at("skip").addEventListener("click", (event) => {
  event.preventDefault()
  at("main").focus()
})

try {
  shelf = await ask("shelf")
  at("room-name").textContent = shelf.room.name
  at("shelf-note").hidden = !shelf.room.assumed
  at("shelf-note").textContent = "There is no room file here yet, so a clay that shrinks 12 % is assumed."
  prepareLessons(shelf, readShelfAgain)
  prepareShapes(readShelfAgain)
  if (shelf.open && !location.hash) history.replaceState(null, "", `#lesson=${encodeURIComponent(shelf.open)}`)
  addEventListener("hashchange", go)
  await go()
} catch (fault) {
  tell(fault.message)
}
