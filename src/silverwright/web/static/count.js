// The count: the one clock of the house. The server keeps start and length; this page shows how long is left, sounds, and sends what its keys say.
// Every time shown follows from the server's last answer and from how long ago that was. Without this script the page shows the moments instead.
(() => {
  "use strict"
  const TICK_MS = 100, ASK_MS = 1000, SEND_AGAIN_MS = 2000, AHEAD_S = 1.6
  const ASLEEP_MS = 1500 // a gap that no busy page has: the device slept, or its clock was set
  const HELD_OFF_MS = 700 // so long after a press, and after the shutter opened by itself, no key is taken: it is the same finger
  const WARN_S = 10
  const SECOND = { "Space": "main", "PageDown": "main", "Enter": "second", "NumpadEnter": "second", "ArrowUp": "sound", "ArrowDown": "more", "PageUp": "more" }
  const HEADS = { "counting in": "Opens in", "running": "Open", "held": "Held", "over": "Close now", "stopped": "Closed" }
  let counts = []     // every count on this page
  let audio = null    // after one touch
  let silent = false
  let arrived = performance.now()
  let asked_at = (performance.getEntriesByType("navigation")[0] || { requestStart: 0 }).requestStart // when this page was asked for
  let sending = false
  let rests_until = 0 // no key is taken before

  const now = () => performance.now()
  const words = seconds => {
    const whole = Math.max(0, seconds), minutes = Math.floor(whole / 60), hours = Math.floor(minutes / 60)
    const two = number => String(number).padStart(2, "0")
    return hours ? `${hours}:${two(minutes % 60)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`
  }

  // ---------- one count ----------
  function read(element) {
    const { count, now: href, how, passedS, beginsS, lengthS, happened } = element.dataset
    const part = name => (element.closest(".bench, .nowline") || element).querySelector(`[data-part=${name}]`)
    const made = { how, passed: Number(passedS), begins: Number(beginsS), length: Number(lengthS), happened: Number(happened) }
    const found = { href, element, part, seen: null, from: -Infinity, until: Infinity, due: [], spoken: "", was: "" }
    believe(found, made, asked_at, arrived)
    return found
  }

  // The server said this at some moment between question and answer. What several answers allow together is narrower than each; its middle is taken.
  function believe(count, told, sent, got) {
    const ran = 1000 * (told.begins > 0 ? told.passed - told.begins : told.passed)
    let from = sent - ran, until = got - ran
    const goes_on = count.seen && count.seen.happened === told.happened
    if (goes_on && from < count.until && until > count.from) [from, until] = [Math.max(from, count.from), Math.min(until, count.until)]
    count.from = from
    count.until = until
    count.seen = { ...told, at: (from + until) / 2 + ran }
  }

  // How it stands now: a count-in first, then the time that has passed.
  function stands(count, ahead = 0) {
    const { how, passed, begins, length, at } = count.seen
    if (how === "held" || how === "stopped") return { how, passed, begins: 0, left: length - passed, length }
    const since = (now() - at) / 1000 + ahead, waits = begins - since
    const gone = passed + Math.max(0, -waits)
    return { how: waits > 0 ? "counting in" : gone >= length ? "over" : "running", passed: gone, begins: Math.max(0, waits), left: length - gone, length }
  }

  async function ask(count) {
    const sent = now()
    let told
    try {
      const answer = await fetch(count.href, { headers: { Accept: "application/json" } })
      if (!answer.ok) throw new Error(answer.status)
      told = await answer.json()
    } catch {
      return away(count, true)
    }
    const got = now()
    if (sending || !counts.includes(count)) return // a newer page stands here already
    away(count, false)
    if (!typing(document.activeElement) && (told.happened !== count.seen.happened || (told.how === "stopped") !== (count.seen.how === "stopped"))) return count.element.closest(".bench") && again() // elsewhere the pulse brings the page anew
    const before = stands(count)
    believe(count, { how: told.how, passed: told.passed_s, begins: told.begins_in_s, length: told.length_s, happened: told.happened }, sent, got)
    if (Math.abs(before.passed - before.begins - stands(count).passed + stands(count).begins) > 0.03) quiet(count)
  }

  function away(count, is) {
    const place = count.part("away")
    if (place) place.textContent = is ? "The server does not answer. This page counts on by itself." : ""
  }

  // ---------- what is seen ----------
  function show(count) {
    const state = stands(count)
    const figure = state.how === "counting in" ? state.begins : state.how === "stopped" ? state.passed : state.how === "over" ? -state.left : state.left
    const text = words(state.how === "stopped" ? Math.round(figure) : state.how === "over" ? Math.floor(figure + 0.05) : Math.ceil(figure - 0.05))
    put(count.part("clock"), state.how === "over" ? `+${text}` : text)
    count.part("clock").parentElement.dataset.letters = count.part("clock").textContent.length
    if (state.how === "stopped") return
    put(count.part("says"), HEADS[state.how])
    put(count.part("of"), `${HEADS[state.how]} `)
    const ends = count.part("ends")
    if (ends) {
      const at = new Date(Date.now() + 1000 * (state.begins + state.left))
      put(ends, state.how === "held" ? `${words(Math.ceil(state.left - 0.05))} are left` : `${state.how === "over" ? "should have closed" : "closes"} at ${at.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" })}`)
    }
    const marks = count.part("tens")
    if (marks) {
      const lit = state.how === "running" ? Math.floor(state.passed % 10) + 1 : state.how === "over" ? 10 : 0
      if (marks.dataset.lit !== String(lit)) {
        marks.dataset.lit = lit
        ;[...marks.children].forEach((mark, place) => mark.toggleAttribute("data-lit", place < lit))
      }
    }
    if (state.how !== count.was) turn(count, state.how)
    const said = state.how === "running" && state.left <= warnAt(state.length) ? `${Math.round(warnAt(state.length))} seconds left` : HEADS[state.how]
    if (said !== count.spoken) put(count.part("spoken"), (count.spoken = said))
  }

  function put(element, text) {
    if (element && element.textContent !== text) element.textContent = text
  }

  // The keys of this state, and no others.
  function turn(count, how) {
    if (count.was === "counting in" && how === "running") rests_until = now() + HELD_OFF_MS // the finger on the release may touch a key
    count.was = how
    count.element.dataset.how = how
    const bench = count.element.closest(".bench")
    if (!bench) return
    bench.dataset.how = how
    for (const form of bench.querySelectorAll("[data-when]")) form.hidden = !form.dataset.when.includes(how)
    const close = bench.querySelector("[data-ends] button")
    if (close) close.disabled = how === "counting in"
    if (navigator.vibrate && audio && !silent && (how === "running" || how === "over")) navigator.vibrate(how === "over" ? [400, 150, 400] : 200)
  }

  // ---------- what is heard ----------
  const warnAt = length => length < 4 * WARN_S ? length / 4 : WARN_S

  // Every tone from now on within so many seconds: when, how high, how long, how loud.
  function tones(state) {
    const found = []
    const add = (wait, hertz, lasts, loud) => { if (wait > -0.05 && wait <= AHEAD_S) found.push({ wait, hertz, lasts, loud }) }
    const opens = state.begins, closes = opens + state.left
    if (state.how === "held" || state.how === "stopped") return found
    if (opens > 0) for (const before of [3, 2, 1]) add(opens - before, 660, 0.09, 0.6)
    if (opens > 0) add(opens, 880, 0.6, 0.8)
    const first = Math.max(1, Math.ceil(state.passed - 0.05))
    for (let second = first; second < first + 3; second++) {
      if (second < state.length - 3.5) add(opens + second - state.passed, 440, second % 10 ? 0.04 : 0.08, second % 10 ? 0.15 : 0.3)
    }
    for (const part of [0, 0.16]) add(closes - warnAt(state.length) + part, 880, 0.09, 0.8)
    for (const before of [3, 2, 1]) if (state.length > 6) add(closes - before, 660, 0.09, 0.6)
    add(closes, 880, 1, 0.9)
    for (let pair = Math.max(1, Math.floor(-closes / 2)); pair <= Math.max(1, Math.floor(-closes / 2)) + 1; pair++) for (const part of [0, 0.16]) add(closes + 2 * pair + part, 880, 0.09, 0.8)
    return found
  }

  function sound(count) {
    if (!audio || silent || audio.state !== "running") return
    const state = stands(count), base = audio.currentTime
    count.due = count.due.filter(one => one.until > base)
    for (const { wait, hertz, lasts, loud } of tones(state)) {
      const at = base + Math.max(0, wait)
      if (count.due.some(one => one.hertz === hertz && Math.abs(one.at - at) < 0.06)) continue
      const voice = audio.createOscillator(), volume = audio.createGain()
      voice.frequency.value = hertz
      volume.gain.setValueAtTime(0, at)
      volume.gain.linearRampToValueAtTime(loud, at + 0.005)
      volume.gain.setValueAtTime(loud, at + lasts - 0.005)
      volume.gain.linearRampToValueAtTime(0, at + lasts)
      voice.connect(volume).connect(audio.destination)
      voice.start(at)
      voice.stop(at + lasts)
      count.due.push({ voice, hertz, at, until: at + lasts + 0.2 })
    }
  }

  function quiet(count) {
    for (const one of count.due) {
      try { one.voice.stop() } catch { /* it has not begun */ }
    }
    count.due = []
  }

  // A browser lets a page sound after somebody has touched it.
  function touched() {
    if (!counts.length && !document.querySelector("[data-starts]")) return
    const Audio = window.AudioContext || window.webkitAudioContext
    if (!Audio) return
    if (!audio) audio = new Audio()
    if (audio.state === "suspended") audio.resume().then(heard)
    heard()
  }

  function heard() {
    const on = audio && audio.state === "running" && !silent
    const key = document.querySelector("[data-key=sound]")
    if (key) {
      key.setAttribute("aria-pressed", String(Boolean(on)))
      key.firstChild.textContent = on ? "Sound on" : "Sound off"
    }
    for (const count of counts) {
      if (count.seen.how !== "stopped") put(count.part("heard"), on ? "" : audio && silent ? "" : "Touch once for sound")
    }
  }

  function hush() {
    silent = audio !== null && audio.state === "running" ? !silent : false
    if (silent) counts.forEach(quiet)
    touched()
  }

  // ---------- what is sent ----------
  function close(form, count) {
    const state = stands(count)
    if (form.hasAttribute("data-counts")) form.elements.given_s.value = Math.max(0.1, Math.round(10 * state.passed) / 10)
    count.seen = { ...count.seen, how: form.hasAttribute("data-ends") ? "stopped" : "held", passed: state.passed }
    quiet(count)
    show(count)
    put(count.part("says"), form.hasAttribute("data-ends") ? "Closed" : "Held")
  }

  async function send(form) {
    if (sending) return
    sending = true
    rests_until = now() + HELD_OFF_MS
    const count = counts.find(one => one.element.closest(".bench"))
    if (count && form.matches("[data-counts]")) close(form, count)
    const body = new URLSearchParams(new FormData(form)).toString(), action = form.getAttribute("action")
    document.querySelectorAll("button").forEach(button => { button.disabled = true })
    const stays = form.matches("[data-counts]")
    const key = form.elements.key.value
    if (stays) remember(key, action, body)
    for (;;) {
      try {
        const sent = now(), answer = await fetch(action, { method: "POST", body, headers: { "Content-Type": "application/x-www-form-urlencoded" } })
        if (answer.status >= 500) throw new Error(answer.status)
        forget(key)
        sending = false
        return put_page(await answer.text(), answer.url, sent)
      } catch {
        tell(stays ? "The server does not answer. What you pressed is kept on this device and sent again by itself." : "It did not arrive, and nothing was done. Press again.")
        if (!stays) break
        await new Promise(done => setTimeout(done, SEND_AGAIN_MS))
      }
    }
    sending = false
    document.querySelectorAll("button").forEach(button => { button.disabled = false })
  }

  function tell(text) {
    const place = document.querySelector("[data-part=away]")
    if (!place) return
    place.hidden = false
    place.textContent = text
  }

  // What was pressed while the server was gone outlives a reload of this page; each press has its key, so that it counts once however often it is sent.
  const PRESSED = "silverwright-pressed-"
  function remember(key, action, body) {
    try { localStorage.setItem(PRESSED + key, JSON.stringify({ action, body })) } catch { /* private windows keep nothing */ }
  }
  function forget(key) {
    try { localStorage.removeItem(PRESSED + key) } catch { /* nothing was kept */ }
  }
  async function send_kept() {
    let names = []
    try { names = Object.keys(localStorage).filter(name => name.startsWith(PRESSED)) } catch { return }
    for (const name of names) {
      const { action, body } = JSON.parse(localStorage.getItem(name))
      try {
        const answer = await fetch(action, { method: "POST", body, headers: { "Content-Type": "application/x-www-form-urlencoded" } })
        if (answer.status >= 500) return
      } catch { return } // it is sent when a page comes again
      localStorage.removeItem(name)
      if (document.querySelector(".bench")) again()
    }
  }

  // The page anew without leaving it: what may sound goes on sounding.
  async function again() {
    const sent = now(), answer = await fetch(location.href)
    if (answer.ok) put_page(await answer.text(), answer.url, sent)
  }

  function put_page(html, address, sent) {
    asked_at = sent
    const fresh = new DOMParser().parseFromString(html, "text/html")
    counts.forEach(quiet)
    document.title = fresh.title
    document.body.replaceWith(document.adoptNode(fresh.body))
    if (address !== location.href) history.replaceState(null, "", address)
    if (window.htmx) window.htmx.process(document.body)
    begin()
    window.scrollTo(0, 0)
    const problem = document.querySelector(".problem:not([hidden])")
    if (problem) problem.scrollIntoView({ block: "center" })
  }

  // ---------- keys ----------
  const key_of = name => [...document.querySelectorAll(`[data-key=${name}]`)].find(one => !one.disabled && !one.closest("[hidden]"))
  const typing = element => element instanceof Element && element.matches("input:not([type=hidden]), select, textarea")

  function pressed(event) {
    touched()
    const name = SECOND[event.code]
    if (!name || event.ctrlKey || event.altKey || event.metaKey || typing(event.target) || !document.querySelector(".bench")) return
    if (event.target instanceof Element && event.target.closest("#more")) return
    event.preventDefault()
    if (event.repeat || event.type !== "keydown" || now() < rests_until) return
    const key = key_of(name)
    if (key) key.click()
  }

  document.addEventListener("keydown", pressed)
  document.addEventListener("keyup", event => {
    if (SECOND[event.code] && document.querySelector(".bench") && !typing(event.target) && !(event.target instanceof Element && event.target.closest("#more"))) event.preventDefault()
  })
  document.addEventListener("pointerdown", touched)
  document.addEventListener("click", event => {
    if (event.target instanceof Element && event.target.closest("[data-key=sound]")) hush()
  })
  document.addEventListener("submit", event => {
    const form = event.target
    if (!form.matches("[data-starts], .bench form, #more form")) return
    event.preventDefault()
    touched()
    send(form)
  })

  // ---------- always ----------
  let last = { own: now(), wall: Date.now() }
  function tick() {
    const here = { own: now(), wall: Date.now() }
    if (Math.abs(here.wall - last.wall - (here.own - last.own)) > ASLEEP_MS || here.own - last.own > ASLEEP_MS) counts.forEach(ask)
    last = here
    counts.forEach(show)
    if (!sending) counts.forEach(sound)
  }

  async function awake() {
    const place = document.querySelector("[data-part=awake]")
    if (!counts.some(count => count.seen.how !== "stopped") || document.hidden) return
    try {
      await navigator.wakeLock.request("screen")
      put(place, "")
    } catch {
      put(place, "Set this screen to stay on")
    }
  }

  function begin() {
    arrived = now()
    counts = [...document.querySelectorAll("[data-count]")].map(read)
    counts.forEach(show)
    if (!sending) counts.filter(count => count.seen.how !== "stopped").forEach(ask)
    heard()
    awake()
  }

  setInterval(tick, TICK_MS)
  setInterval(() => { if (!sending) counts.filter(count => count.seen.how !== "stopped").forEach(ask) }, ASK_MS)
  for (const moment of ["visibilitychange", "focus", "pageshow"]) {
    window.addEventListener(moment, () => {
      if (document.hidden) return
      counts.filter(count => count.seen.how !== "stopped").forEach(ask)
      awake()
    })
  }
  document.addEventListener("htmx:afterSettle", begin)
  begin()
  send_kept()
})()
