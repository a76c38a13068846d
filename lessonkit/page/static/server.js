// What is asked of the program: JSON in, JSON out. Only this module speaks with it.

const CLOSED = "lessonkit has been closed, so nothing can be drawn or saved. Start it again with: lessonkit open. What you typed still stands on this page: note it down first."

export class Refused extends Error {
  constructor(answer, status) {
    super([answer.error.what, answer.error.hint].filter(Boolean).join(" "))
    this.status = status
    this.problems = answer.problems ?? []
  }
}

async function request(address, body) {
  const post = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }
  let answer
  try {
    answer = await fetch(address, body ? post : {})
  } catch {
    document.dispatchEvent(new CustomEvent("tell", { detail: CLOSED }))
    throw new Refused({ error: { what: CLOSED } }, 0)
  }
  document.dispatchEvent(new CustomEvent("tell", { detail: "" }))
  if (answer.ok) return answer
  throw new Refused(await answer.json().catch(() => ({ error: { what: `That did not work (${answer.status}).` } })), answer.status)
}

export async function ask(address, body) {
  return (await request(address, body)).json()
}

/** Puts a file into her downloads, under the name that the program gives it; returns the name. */
export async function download(address, body) {
  const answer = await request(address, body)
  const name = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition"))?.[1] ?? "papers"
  const link = document.createElement("a")
  link.href = URL.createObjectURL(await answer.blob())
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
  return name
}

/** A function that asks `question(turn)` again and again as things change: one question under way at a time, and what is
 * out of date when it comes is dropped. */
export function follower(question, answered, failed) {
  let turn = 0
  let busy = false
  let wanted = false
  return async function follow() {
    wanted = true
    if (busy) return
    busy = true
    while (wanted) {
      wanted = false
      turn += 1
      const mine = turn
      try {
        const answer = await question(mine)
        if (!wanted && answer && (answer.turn ?? mine) === mine) answered(answer)
      } catch (fault) {
        if (!wanted) failed(fault)
      }
    }
    busy = false
  }
}
