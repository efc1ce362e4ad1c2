// The arithmetic of the field page: it looks up in tables that the ledger has filled in, and adds. Nothing here knows a law of exposure.
const LENGTHS = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, ft: 304.8, "'": 304.8 }
const UNREAD = "This is not a number that can be read here."

// A number as a hand writes it: 12,5 or 1/8 or 2 1/2 or f/22, with a unit of length where one is asked; nothing when it cannot be read.
function number(text, unit = "") {
  const written = String(text).trim().toLowerCase().replace(/^(f\/?|ev|ei|iso|×|x)\s*(?=[\d.,])/, "")
  const found = /^([+\-−]?)(?:(\d+)\s+)?(\d+(?:[.,]\d+)?|[.,]\d+)(?:\s*\/\s*(\d+(?:[.,]\d+)?))?\s*(mm|cm|m|in|ft|"|'|s|lx|ev|x|×)?$/.exec(written)
  if (!found) return null
  const [, sign, whole, first, below, given] = found
  if (/^\d{1,3},\d{3}$/.test(first)) return null // a thousand, or one and a bit: nobody knows
  if (whole && !below) return null
  const plain = one => Number(one.replace(",", "."))
  const size = (Number(whole) || 0) + plain(first) / (below ? plain(below) : 1)
  const factor = unit ? LENGTHS[given in LENGTHS ? given : unit] : 1
  return Number.isFinite(size) ? (sign === "-" || sign === "−" ? -size : size) * factor : null
}

// Seconds as a hand writes them: 34, 1:37, 2m30s, 1/8; nothing when they cannot be read.
function seconds(text) {
  const written = String(text).trim().toLowerCase()
  const clock = /^(?:(\d+):(?=\d\d?:))?(\d+):([0-5]?\d(?:[.,]\d+)?)$/.exec(written) || /^(?:(\d+)\s*h)?\s*(?:(\d+)\s*m(?:in)?)?\s*(?:(\d+(?:[.,]\d+)?)\s*s?)?$/.exec(written)
  if (written && clock && clock.slice(1).some(Boolean)) {
    const [hours, minutes, rest] = clock.slice(1).map(one => Number((one || "0").replace(",", ".")))
    return hours * 3600 + minutes * 60 + rest
  }
  return number(written)
}

// The values of a table at a place, along straight lines between its rows; nothing outside of it.
function look(rows, place) {
  if (!(place >= rows[0][0] && place <= rows[rows.length - 1][0])) return null
  let low = 0
  let high = rows.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (rows[middle][0] <= place) low = middle
    else high = middle
  }
  const [first, last] = [rows[low], rows[high]]
  const share = last[0] === first[0] ? 0 : (place - first[0]) / (last[0] - first[0])
  return first.slice(1).map((value, column) => value + share * (last[column + 1] - value))
}

const bounds = rows => `${said(rows[0][0])} to ${said(rows[rows.length - 1][0])}`
const said = value => String(Number(value.toPrecision(4)))

// One typed figure looked up; what is wrong with it goes beside its field.
function looked(rows, text, wrong, field, unit = "") {
  const place = number(text, unit)
  const found = place === null ? null : look(rows, place)
  if (place === null) wrong[field] = String(text).trim() ? UNREAD : "Needed."
  else if (!found) wrong[field] = `The tables here reach from ${bounds(rows)}${unit ? " mm" : ""}.`
  return found || [0, 0]
}

function readingPart(figures, use, wrong) {
  const readings = figures.readings
  if (use.by !== "dial") return looked(readings[use.by], use.reading, wrong, "reading")
  const [time, aperture] = [seconds(use.reading), number(use.dial_aperture)]
  const marked = time === null ? undefined : near(readings.times, time)
  if (marked === undefined) wrong.reading = "No meter shows this time. Give it as it stands on the dial."
  if (!(`${aperture}` in readings.apertures)) wrong.dial_aperture = "No such mark is in the tables. Give it as it stands on the dial."
  const ei = looked(readings.eis, use.dial_ei, wrong, "dial_ei")
  if (Object.keys(wrong).length) return [0, 0]
  return [readings.dial[0] + readings.times[marked] + readings.apertures[`${aperture}`] + ei[0], readings.dial[1]]
}

// The mark that stands for a time: 1/60 is also typed as 0.0167.
const near = (marks, time) => Object.keys(marks).find(mark => Math.abs(time / Number(mark) - 1) < 0.01)

function nearPart(figures, use, lens, wrong) {
  if (use.near_by === "far") return [0, 0]
  if (use.near_by === "unknown") return lens.near.unknown
  const rows = lens.near[use.near_by]
  if (!rows) {
    wrong.near = "The focal length of this lens is not known here. Measure the ruler target instead."
    return [0, 0]
  }
  return looked(rows, use.near, wrong, "near", use.near_by === "distance" ? "m" : "mm")
}

function aperturePart(lens, law, use, wrong) {
  if (lens.hole) return [0, 0]
  const value = number(use.aperture)
  if (value !== null && `${value}` in law.marks) return [law.marks[`${value}`], 0]
  return [looked(law.apertures, use.aperture, wrong, "aperture")[0], 0]
}

const filterPart = (figures, use, wrong) => String(use.filter || "").trim() ? looked(figures.filters, use.filter, wrong, "filter") : [0, 0]
const lightPart = (figures, use) => figures.lights[use.light] ? figures.lights[use.light].slice(1) : [0, 0]

// The nearest time that can be counted, or the mark of the shutter.
function settable(figures, law, total) {
  const time = 2 ** total
  if (law.hand === null || total < law.hand) {
    const marks = law.shutter.filter(mark => mark[0] <= total)
    return (marks[marks.length - 1] || law.shutter[0] || [0, time])[1]
  }
  const step = figures.counts.filter(count => count[0] <= time).pop()[1]
  return Math.max(step, step * Math.round(time / step))
}

// How long to expose, and between which times 8 of 10 sheets lie; or what is wrong, beside each field.
function expose(figures, use) {
  const wrong = {}
  const lens = figures.lenses[use.lens]
  const law = figures.laws[lens.law]
  const parts = [
    lens.start, readingPart(figures, use, wrong), nearPart(figures, use, lens, wrong), aperturePart(lens, law, use, wrong),
    filterPart(figures, use, wrong), lightPart(figures, use),
  ]
  if (Object.keys(wrong).length) return { wrong }
  const [metered, variance] = [0, 1].map(column => parts.reduce((sum, part) => sum + part[column], 0))
  const rest = look(law.rest, metered)
  if (!rest) return { wrong: { time: metered > 0 ? "That is longer than the tables reach: open the lens, or wait for more light." : "That is shorter than the tables reach: stop down." } }
  const total = metered + rest[0]
  const reach = 2 ** (figures.reach * Math.sqrt(rest[1] + rest[2] * variance))
  return { wrong, time: 2 ** total, low: 2 ** total / reach, high: 2 ** total * reach, set: settable(figures, law, total), counted: law.hand !== null && total >= law.hand }
}

// `1/8 s`, `6.5 s`, `37 s`, `1:37`, `1:02:05`
function shown(time) {
  if (time < 0.4 && Math.abs(time * Math.round(1 / time) - 1) < 0.05) return `1/${Math.round(1 / time)} s`
  if (time < 59.5) return `${time < 10 ? Number(time.toPrecision(2)) : Math.round(time)} s`
  return clocked(time)
}

// `0:45`, `1:37`, `1:02:05`
function clocked(time) {
  const whole = Math.round(time)
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, String(whole % 60).padStart(2, "0")]
  return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${rest}` : `${minutes}:${rest}`
}
