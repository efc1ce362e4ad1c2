// The field page: what is typed becomes a time, a time is counted, what was counted becomes a line of the log.
(() => {
  const figures = JSON.parse(document.getElementById("figures").textContent)
  const at = name => document.getElementById(name)
  const kept = shelf()
  const sound = tones()
  const form = at("scene")
  let entries = kept.read(SHELF, [])
  let answer = null
  let running = null
  let unsaved = 0
  let sleepless = null
  if (!Array.isArray(entries)) entries = []

  const typed = () => Object.fromEntries([...form.elements].filter(one => one.name).map(one => [one.name, one.value]))

  // ---------- the time ----------
  function tell() {
    const use = typed()
    at("dial").hidden = use.by !== "dial"
    at("near-field").hidden = ["far", "unknown"].includes(use.near_by)
    at("aperture-field").hidden = figures.lenses[use.lens].hole
    at("near-unit").textContent = use.near_by === "distance" ? "m" : "mm"
    at("reading-unit").textContent = { ev: "EV", lx: "lx", dial: "s" }[use.by]
    answer = expose(figures, use)
    const wrong = answer.wrong
    for (const field of ["reading", "dial_aperture", "dial_ei", "near", "aperture", "filter"]) {
      const problem = use[field] ? wrong[field] || "" : "" // nobody is told off for a field that is not reached yet
      at(`p-${field}`).textContent = problem
      form.elements[field].toggleAttribute("aria-invalid", Boolean(problem))
    }
    const told = Object.keys(wrong).find(field => use[field])
    const waits = Object.keys(wrong).filter(field => field !== "time").map(field => form.elements[field].dataset.says)
    const known = answer.time !== undefined
    at("time").textContent = known ? shown(answer.time) : "–"
    at("low").textContent = known ? shown(answer.low) : ""
    at("high").textContent = known ? shown(answer.high) : ""
    const exact = known && answer.counted && shown(answer.set) === shown(answer.time)
    at("set").textContent = exact ? "" : known ? `${answer.counted ? "Count" : "Set the shutter to"} ${shown(answer.set)}.` : wrong.time || (told && `${form.elements[told].value}: ${wrong[told]}`) || `Still needed: ${waits.join(", ")}.`
    at("count").disabled = at("without").disabled = !known
    at("count").hidden = known && !answer.counted
    at("without").textContent = known && !answer.counted ? "Exposed: into the log" : "Timed otherwise: into the log"
    at("twice").textContent = exposedBefore(use) || (figures.empty.includes(use.place) ? "By the book nothing was in this side when you went out." : "")
    if (at("count").dataset.sure !== use.place) unsure()
    kept.write(`${SHELF} scene`, use)
  }

  function unsure() {
    delete at("count").dataset.sure
    at("count").textContent = "Count it"
  }

  function exposedBefore(use) {
    const before = use.place && entries.find(entry => !entry.struck && `${entry.holder}/${entry.side}` === use.place)
    const by = figures.exposed.includes(use.place) ? "By the book this side was exposed before you went out." : ""
    return before ? `This side was exposed at ${before.when.slice(11, 16)}, by this log. Exposed again, it is a double exposure.` : by
  }

  // ---------- the count ----------
  function start() {
    sound.wake()
    keepAwake()
    const use = typed()
    const planned = answer
    if (at("twice").textContent && at("count").dataset.sure !== use.place) {
      at("count").dataset.sure = use.place
      at("count").textContent = exposedBefore(use) ? "Expose it again" : "Count it all the same"
      return
    }
    unsure()
    document.documentElement.dataset.counting = "in"
    at("counted").focus()
    count(use, planned, null)
  }

  function count(use, planned, since) {
    let noted = since !== null
    running = { use, planned }
    running.count = counting(planned.set, sound, state => {
      show(state, planned.set)
      if (!noted && state.opened !== null) kept.write(`${SHELF} under way`, { use, planned, opened: state.opened.getTime() })
      noted = noted || state.opened !== null
    }, since)
  }

  // The page was closed or loaded anew while the shutter was open: the count goes on.
  function goOn() {
    const left = kept.read(`${SHELF} under way`, null)
    if (!left || !figures.lenses[left.use.lens]) return
    count(left.use, left.planned, new Date(left.opened))
  }

  function show(state, length) {
    document.documentElement.dataset.counting = state.opened === null ? "in" : state.over > 0 ? "over" : "open"
    at("clock").textContent = state.opened === null ? String(state.in) : clocked(state.over > 0 ? state.over : Math.ceil(state.left - 0.05))
    at("clock-says").textContent = state.opened === null ? "Open the shutter in" : state.over > 0 ? "Close the shutter. Over by" : "left"
    at("close").textContent = state.opened === null ? "Do not expose" : "Closed"
    at("gone").textContent = state.opened === null ? `then ${shown(length)}` : `of ${shown(length)}`
  }

  function close() {
    const { use, planned, count } = running
    const done = count.close()
    running = null
    kept.write(`${SHELF} under way`, null)
    delete document.documentElement.dataset.counting
    if (sleepless) sleepless.release().catch(() => null)
    sleepless = null
    if (done) write(use, planned, done.opened, Number(done.given.toFixed(1)), done.unsure ? `The phone slept or its clock was set, by ${done.unsure} s.` : "")
    at("count").focus()
  }

  function keepAwake() {
    if (navigator.wakeLock) navigator.wakeLock.request("screen").then(lock => { sleepless = lock }, () => null)
  }

  // ---------- the log ----------
  function write(use, planned, opened, given, remarks) {
    const lens = figures.lenses[use.lens]
    const [holder, side] = use.place.includes("/") ? use.place.split(/\/(?=[^/]*$)/) : ["", ""]
    const light = figures.lights[use.light]
    const entry = {
      ...figures.log, entry: entryName(), when: moment(opened), lens: lens.known ? lens.name : "", holder, side, ...reading(use), ...nearness(use),
      aperture_f: lens.hole ? "" : number(use.aperture), filter_factor: use.filter.trim() ? number(use.filter) : "", light_class: light ? light[0] : "",
      planned_s: Number(planned.time.toFixed(2)),
      given_s: given, subject: use.subject, remarks, anyway: exposedBefore(use) ? "yes" : "",
      page: JSON.stringify({ ...figures.fields, ...lens.fields, ...(light ? light[3] : {}) }),
    }
    entries.push(entry)
    unsaved += 1
    form.elements.place.value = form.elements.subject.value = ""
    keep()
    list()
    tell()
  }

  function reading(use) {
    if (use.by !== "dial") return { [`reading_${use.by}`]: number(use.reading) }
    return { dial_time_s: seconds(use.reading), dial_aperture_f: number(use.dial_aperture), dial_ei: number(use.dial_ei) }
  }

  function nearness(use) {
    if (use.near_by === "far") return { magnification_factor: 0 }
    if (use.near_by === "extension") return { extension_mm: number(use.near, "mm") }
    if (use.near_by === "distance") return { subject_mm: number(use.near, "m") }
    return use.near_by === "size" ? { target_image_mm: number(use.near, "mm"), target_mm: figures.target } : {}
  }

  function keep() {
    kept.write(SHELF, entries)
    at("as-text").value = table(figures.columns, entries)
    at("refused").hidden = !kept.refused
  }

  function list() {
    for (const option of form.elements.place.options) {
      const line = entries.findIndex(entry => !entry.struck && option.value && `${entry.holder}/${entry.side}` === option.value)
      option.dataset.said = option.dataset.said || option.textContent
      option.textContent = line < 0 ? option.dataset.said : `${option.dataset.said.split(":")[0]}: exposed, line ${line + 1}`
    }
    const rows = entries.map((entry, place) => {
      const row = at("line").content.firstElementChild.cloneNode(true)
      const part = name => row.querySelector(`[data-part=${name}]`)
      row.classList.toggle("struck", Boolean(entry.struck))
      part("what").textContent = `${place + 1}. ${entry.when.slice(11, 16)}${entry.holder ? `, ${entry.holder}/${entry.side}` : ""}`
      part("times").textContent = `planned ${shown(entry.planned_s)}`
      part("strike").textContent = entry.struck ? "Take it back" : "Strike it out"
      part("strike").addEventListener("click", () => change(place, { struck: !entry.struck }, true))
      for (const name of ["given_s", "subject", "remarks"]) {
        part(name).value = name === "given_s" ? shown(entry.given_s) : entry[name]
        part(name).id = `${name}-${place}`
        part(name).parentElement.htmlFor = part(name).id
        part(name).addEventListener("change", event => amend(place, name, event.target))
      }
      return row
    })
    at("lines").replaceChildren(...rows)
    at("no-lines").hidden = entries.length > 0
    at("hand-over").hidden = entries.length === 0
  }

  function amend(place, name, field) {
    if (name !== "given_s") return change(place, { [name]: field.value })
    const given = seconds(field.value)
    if (given > 0) change(place, { given_s: given })
    field.value = shown(entries[place].given_s)
  }

  function change(place, what, again) {
    Object.assign(entries[place], what)
    unsaved += 1
    keep()
    if (again) list()
    tell()
  }

  function save() {
    const link = document.createElement("a")
    const file = new Blob([table(figures.columns, entries)], { type: "text/csv" })
    link.href = URL.createObjectURL(file)
    link.download = `field-log-${moment(new Date()).slice(0, 10)}.csv`
    link.click()
    setTimeout(() => URL.revokeObjectURL(link.href), 60000)
    unsaved = 0
    at("saved").textContent = `Handed over as ${link.download}. At home: Book, Bring in a field log.`
  }

  function copy() {
    const text = at("as-text")
    text.focus()
    text.select()
    const done = () => { unsaved = 0; at("saved").textContent = "Copied. Paste it at home: Book, Bring in a field log." }
    const by_hand = () => document.execCommand("copy") ? done() : (at("saved").textContent = "It is marked: copy it with the phone's own menu.")
    if (navigator.clipboard) navigator.clipboard.writeText(text.value).then(done, by_hand)
    else by_hand()
  }

  function empty() {
    if (at("empty").dataset.sure !== "yes") {
      at("empty").dataset.sure = "yes"
      at("empty").textContent = unsaved ? "Not handed over yet. Empty it all the same" : "Yes, empty it"
      return
    }
    entries = []
    unsaved = 0
    delete at("empty").dataset.sure
    at("empty").textContent = "Empty the log"
    at("saved").textContent = ""
    keep()
    list()
    tell()
  }

  // ---------- the light in this place ----------
  function light(theme) {
    document.documentElement.dataset.theme = theme
    document.querySelectorAll("[data-light]").forEach(one => one.setAttribute("aria-pressed", String(one.dataset.light === theme)))
    kept.write(`${SHELF} light`, theme)
  }

  // ---------- wiring ----------
  const before = kept.read(`${SHELF} scene`, {})
  for (const [name, value] of Object.entries(before || {})) {
    const field = form.elements[name]
    if (field && (field.tagName !== "SELECT" || [...field.options].some(one => one.value === value))) field.value = value
  }
  form.addEventListener("input", tell)
  form.addEventListener("submit", event => event.preventDefault())
  at("count").addEventListener("click", start)
  at("close").addEventListener("click", close)
  at("without").addEventListener("click", () => write(typed(), answer, new Date(), answer.set, ""))
  at("save").addEventListener("click", save)
  at("copy").addEventListener("click", copy)
  at("empty").addEventListener("click", empty)
  document.querySelectorAll("[data-light]").forEach(one => one.addEventListener("click", () => light(one.dataset.light)))
  document.addEventListener("keydown", event => {
    if (running && (event.key === " " || event.key === "PageDown")) {
      event.preventDefault()
      close()
    }
  })
  window.addEventListener("beforeunload", event => {
    if (kept.refused && (running || unsaved)) event.preventDefault()
  })
  at("tables").open = false
  document.documentElement.dataset.script = "yes"
  light(kept.read(`${SHELF} light`, "day"))
  keep()
  list()
  tell()
  goOn()
  window.fieldPage = { figures, expose: use => expose(figures, use) }
})()
