// What the program made of a lesson or a shape: the sheet, the sizes, the clay, the minutes, the problems.

/** A number stays on one line with its unit and its fraction. */
export const unbroken = (words) => words.replace(/(\d) (?=%|\d+\/\d|(?:mm|cm|in|kg|g|lb|oz)\b)/g, "$1\u00a0")

export function element(name, words = "", attributes = {}) {
  const made = document.createElement(name)
  made.textContent = unbroken(words)
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value)
  return made
}

/** A sentence begins with a capital, the name of a file stays as it is. */
export const capital = (words) => (/^\S+\.\S/.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1))

/** The drawing as an element of this page; null if it can't be read. */
export function drawing(text) {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement
  if (root.localName !== "svg") return null
  root.setAttribute("aria-hidden", "true")
  root.querySelectorAll("title, desc").forEach((node) => node.remove())
  return document.importNode(root, true)
}

let rest
/** Reads it aloud to who listens, once the hands rest. */
export function say(words) {
  clearTimeout(rest)
  rest = setTimeout(() => { document.getElementById("said").textContent = words }, 700)
}

export const SEVERITY = { error: "Mend: ", warning: "Look: " }

/** The result part of a view: `place` is filled from the template; `papers` are shown to choose from, if there are any. */
export class Result {
  constructor(place, name, { papers = [], changed = () => {} }) {
    place.replaceChildren(document.getElementById("result-template").content.cloneNode(true))
    this.place = place
    this.changed = changed
    this.page = 1
    this.count = 1
    this.show = papers[0]?.id
    if (papers.length) this.offer(name, papers)
    else this.stencilAlone()
    this.find(".back").addEventListener("click", () => this.turn(-1))
    this.find(".on").addEventListener("click", () => this.turn(1))
  }

  find(selector) {
    return this.place.querySelector(selector)
  }

  stencilAlone() {
    for (const part of [".choose", ".print"]) this.find(part).remove()
    this.find("figcaption").textContent = "The stencil comes here."
  }

  offer(name, papers) {
    for (const paper of papers) {
      const label = element("label")
      const radio = element("input", "", { type: "radio", name: `${name}-paper`, value: paper.id })
      radio.checked = paper.id === this.show
      radio.addEventListener("change", () => {
        this.show = paper.id
        this.page = 1
        this.changed()
      })
      label.append(radio, paper.name)
      this.find(".which").append(label)
    }
  }

  /** The words of the paper that is shown. */
  get showName() {
    return this.find(".which input:checked")?.parentElement.textContent ?? "Stencil"
  }

  turn(by) {
    this.page = Math.min(Math.max(this.page + by, 1), this.count)
    this.changed()
  }

  /** `nameOf` gives the words of a field's label, `goTo` puts the cursor there. */
  paint(answer, { nameOf, goTo }) {
    const problems = once(answer.problems)
    this.problems(problems, nameOf, goTo)
    const wrong = problems.some((problem) => problem.severity === "error")
    this.find(".old").hidden = !wrong || !this.find(".sheet svg")
    this.find("figure").classList.toggle("is-old", wrong)
    if (answer.pages.length) this.sheet(answer)
    else if (!wrong) this.noSheet("This lesson has no such paper.")
    else if (!this.find(".sheet svg")) this.noSheet("There is no picture yet. Mend what is marked, and it comes.")
    const before = this.sizesInWords
    if (answer.pieces?.length) {
      this.cuts(answer.pieces)
      this.amounts(answer)
    }
    say(this.news(problems, nameOf, before))
  }

  news(problems, nameOf, before) {
    if (problems.length) return problems.map((problem) => inWords(problem, nameOf)).join(" ")
    const fresh = this.sizesInWords?.filter((size) => before && !before.includes(size)) ?? []
    return fresh.join(", ")
  }

  sheet({ pages, page_count: count }) {
    const page = pages.find(({ number }) => number === this.page) ?? pages[0]
    this.count = count
    this.page = page.number ?? this.page
    const picture = drawing(page.svg)
    if (!picture) return
    const sheet = this.find(".sheet")
    sheet.replaceChildren(picture)
    const words = count > 1 ? `${page.name}, sheet ${this.page} of ${count}` : page.name
    sheet.setAttribute("role", "img")
    sheet.setAttribute("aria-label", words)
    this.find("figcaption").textContent = words
    this.find(".turn").hidden = count < 2
    this.find(".back").disabled = this.page < 2
    this.find(".on").disabled = this.page >= count
  }

  /** Nothing of what was shown before is left. */
  clear() {
    this.page = 1
    this.sizesInWords = undefined
    this.noSheet("Drawing…")
    for (const part of this.place.querySelectorAll(".numbers > section")) part.hidden = true
    this.find(".old").hidden = true
  }

  noSheet(words) {
    this.find(".sheet").replaceChildren()
    this.find(".sheet").removeAttribute("role")
    this.find(".sheet").removeAttribute("aria-label")
    this.find(".turn").hidden = true
    this.find("figcaption").textContent = words
  }

  problems(problems, nameOf, goTo) {
    const list = this.find(".problems ul")
    list.replaceChildren(...problems.map((problem) => {
      const line = element("li", "", { class: problem.severity })
      line.append(element("strong", SEVERITY[problem.severity] ?? ""))
      const name = problem.field === null ? "" : nameOf(problem.field)
      if (name) {
        const button = element("button", name, { type: "button", class: "plain" })
        button.addEventListener("click", () => goTo(problem.field))
        line.append(button, ": ")
      }
      line.append(unbroken([problem.what, problem.hint].filter(Boolean).join(" ")))
      return line
    }))
    this.find(".problems").hidden = !problems.length
  }

  cuts(pieces) {
    const table = this.find(".cuts table")
    table.querySelectorAll("tbody").forEach((body) => body.remove())
    this.sizesInWords = []
    for (const piece of pieces) {
      for (const [number, part] of piece.parts.entries()) {
        const body = element("tbody")
        body.append(partRow(part.name || piece.name, number ? null : piece))
        for (const size of part.sizes) {
          const row = element("tr")
          row.append(element("th", size.name, { scope: "row" }), element("td", size.fired.replace("\u00a0±", " ±")), element("td", size.cut, { class: "cut" }))
          body.append(row)
          this.sizesInWords.push(`${size.name}: cut ${size.cut}`)
        }
        table.append(body)
      }
    }
    this.find(".cuts").hidden = false
  }

  amounts({ clay, minutes }) {
    this.list(".clay", clay ? [["For one piece", clay.each], ["For the group", clay.group], ["Which clay", clay.basis]] : [])
    this.list(".minutes", minutes.map((one) => [one.name, one.of ? `${one.minutes} of ${one.of} minutes` : `${one.minutes} minutes`, one.of && one.minutes / one.of]))
  }

  list(selector, rows) {
    const list = this.find(`${selector} dl`)
    list.replaceChildren(...rows.filter(([, words]) => words).map(([name, words, share]) => {
      const row = element("div")
      const value = element("dd", words)
      if (share) {
        const bar = element("span", "", { class: share > 1 ? "bar over" : "bar", "aria-hidden": "true" })
        bar.style.setProperty("--share", Math.min(share, 1))
        value.append(bar)
      }
      row.append(element("dt", name), value)
      return row
    }))
    this.find(selector).hidden = !list.children.length
  }
}

/** The name of a part over its sizes; with the slab and the weight of the `piece`, over its first part. */
function partRow(words, piece) {
  const row = element("tr", "", { class: "piece" })
  const name = element("th", words, { scope: "rowgroup", colspan: "3" })
  const more = piece ? [piece.count > 1 ? `${piece.count} of it` : "", piece.thickness && `slab ${piece.thickness}`, piece.weight] : []
  if (piece) name.append(element("span", more.filter(Boolean).join(" · ")))
  row.append(name)
  return row
}

/** The same words are told once for each field. */
function once(problems) {
  return [...new Map(problems.map((problem) => [JSON.stringify([problem.field, problem.what, problem.hint]), problem])).values()]
}

function inWords(problem, nameOf) {
  const name = problem.field === null ? "" : nameOf(problem.field)
  return [SEVERITY[problem.severity] + (name ? `${name}:` : ""), problem.what, problem.hint].filter(Boolean).join(" ")
}
