// What was exposed, kept by the phone if it allows that, and handed over as one table.
const SHELF = "silverwright field log"

// The phone's own shelf; where it refuses, everything lasts as long as the page stays open.
function shelf() {
  const kept = { refused: false }
  const attempt = act => {
    try { return act() } catch { kept.refused = true }
    return null
  }
  kept.read = (name, otherwise) => {
    const text = attempt(() => window.localStorage.getItem(name))
    try { return text === null ? otherwise : JSON.parse(text) } catch { return otherwise }
  }
  kept.write = (name, value) => attempt(() => window.localStorage.setItem(name, JSON.stringify(value)))
  kept.write(`${SHELF} tried`, 1)
  return kept
}

// A name that no other line has, made here: importing twice makes nothing twice.
function entryName() {
  const letters = "abcdefghjkmnpqrstuvwxyz23456789"
  const random = new Uint8Array(16)
  if (window.crypto && crypto.getRandomValues) crypto.getRandomValues(random)
  else random.forEach((_, place) => { random[place] = Math.floor(Math.random() * 256) })
  return [...random].map(one => letters[one % letters.length]).join("")
}

// 2026-11-28T14:31:05+01:00: this phone's own time, with its zone.
function moment(date) {
  const two = value => String(Math.floor(Math.abs(value))).padStart(2, "0")
  const ahead = -date.getTimezoneOffset()
  const day = [date.getFullYear(), two(date.getMonth() + 1), two(date.getDate())].join("-")
  return `${day}T${[date.getHours(), date.getMinutes(), date.getSeconds()].map(two).join(":")}${ahead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}`
}

// The log as a table with semicolons: the first line names the columns, a cell with a semicolon stands between quotes.
function table(columns, entries) {
  const cell = value => {
    const text = value === undefined || value === null ? "" : String(value).replace(/\s+/g, " ").trim()
    return /[;"]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text
  }
  const lines = entries.filter(entry => !entry.struck).map(entry => columns.map(column => cell(entry[column])).join(";"))
  return [columns.join(";"), ...lines].join("\n") + "\n"
}
