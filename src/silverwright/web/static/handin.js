// Scans are handed in one after the other, with progress. Without this script the form does the same in one go.
(() => {
  "use strict"
  const form = document.getElementById("hand-in")
  if (!form) return
  const chooser = form.querySelector("input[type=file]")
  const zone = document.getElementById("drop")
  const list = document.getElementById("files")
  const pattern = document.getElementById("file-row")
  const button = form.querySelector("button.btn")
  const largest = Number(form.dataset.largestBytes)
  const BROKEN = "The connection broke. Nothing of this file was kept, and nothing that you typed is lost. When the program runs again, send it again."
  const LOST = "The connection broke after the file had arrived. Send it again: the file itself need not be sent a second time."
  const EMPTY = "This file is empty. Scan again, or choose another file."
  const LARGE = "This file is larger than a scan of a gigapixel. Scan at fewer pixels to the inch."
  let rows = []

  const megabytes = bytes => bytes === 0 ? "empty" : bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(bytes < 1e8 ? 1 : 0)} MB`
  const part = (row, name) => row.element.querySelector(`[data-part=${name}]`)

  function add(files) {
    for (const file of files) {
      const element = pattern.content.firstElementChild.cloneNode(true)
      const row = { file, element, sha256: "", key: `${form.elements.key.value}-${Math.random().toString(36).slice(2, 10)}`, state: "chosen", request: null }
      part(row, "name").textContent = file.name
      part(row, "size").textContent = megabytes(file.size)
      part(row, "bar").setAttribute("aria-label", `${file.name}, how much was sent`)
      part(row, "cancel").addEventListener("click", () => cancel(row))
      part(row, "again").addEventListener("click", () => again(row))
      part(row, "drop").addEventListener("click", () => forget(row))
      rows.push(row)
      list.append(element)
      show(row, "chosen")
    }
    chooser.value = ""
  }

  function show(row, state, says = "") {
    row.state = state
    row.element.dataset.state = state
    part(row, "says").textContent = says
    part(row, "problem").hidden = state !== "trouble"
    part(row, "says").hidden = state === "trouble"
    if (state === "trouble") part(row, "problem").textContent = says
    part(row, "bar").hidden = state !== "sending"
    part(row, "cancel").hidden = state !== "sending"
    part(row, "again").hidden = state !== "trouble"
    part(row, "drop").hidden = state === "sending"
    part(row, "acts").hidden = state === "done"
    chooser.required = rows.every(one => one.state === "done") // whoever sends the form once more means another file
  }

  function forget(row) {
    rows = rows.filter(one => one !== row)
    row.element.remove()
    chooser.required = rows.every(one => one.state === "done")
  }

  function cancel(row) {
    if (row.request) row.request.abort()
  }

  function upload(row) {
    return new Promise((resolve, reject) => {
      const request = row.request = new XMLHttpRequest()
      request.open("POST", "/api/files")
      request.setRequestHeader("Content-Type", "application/octet-stream")
      request.upload.addEventListener("progress", event => {
        part(row, "bar").max = row.file.size
        part(row, "bar").value = event.loaded
        part(row, "says").textContent = `${megabytes(event.loaded)} of ${megabytes(row.file.size)}`
      })
      request.addEventListener("load", () => request.status === 201 ? resolve(JSON.parse(request.responseText).file) : reject(told(request.responseText)))
      request.addEventListener("error", () => reject(BROKEN))
      request.addEventListener("abort", () => reject("You stopped it. Nothing of this file was kept."))
      request.send(row.file)
    })
  }

  function told(text) {
    try {
      return JSON.parse(text).problems.map(one => one.problem).join(" ")
    } catch {
      return "The program could not answer. Nothing of this file was kept; send it again."
    }
  }

  async function record(row) {
    const fields = new FormData(form)
    fields.delete("files")
    const own = part(row, "sheet").querySelector("select")
    if (own && own.value) fields.set("sheet", own.value)
    fields.set("key", row.key)
    fields.set("file", row.sha256)
    fields.set("handed_in_as", row.file.name)
    let answer
    try {
      answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(fields), headers: { Accept: "application/json" } })
    } catch {
      throw LOST
    }
    const found = await answer.json()
    if (answer.ok) return found
    throw beside(row, found.problems)
  }

  // Each fault stands beside its field; the sheet is asked at the file, because every file has its own.
  function beside(row, problems) {
    for (const { field, problem } of problems) {
      if (field === "sheet") askSheet(row)
      const place = field !== "sheet" && document.getElementById(`p-${field}`)
      if (place) {
        const line = document.createElement("p")
        line.className = "problem"
        line.textContent = problem
        place.replaceChildren(line)
      }
    }
    return problems.map(one => one.problem).join(" ")
  }

  function askSheet(row) {
    const place = part(row, "sheet")
    if (place.querySelector("select")) return
    const select = form.elements.sheet.cloneNode(true)
    if (select.tagName !== "SELECT") return
    for (const name of ["id", "name", "aria-describedby", "aria-invalid"]) select.removeAttribute(name)
    select.setAttribute("aria-label", `Sheet in ${row.file.name}`)
    select.options[0].textContent = "choose its sheet"
    place.append(select)
    place.hidden = false
  }

  async function hand(row) {
    if (row.file.size === 0) return show(row, "trouble", EMPTY)
    if (row.file.size > largest) return show(row, "trouble", LARGE)
    show(row, "sending", "Being sent")
    try {
      if (!row.sha256) row.sha256 = await upload(row)
      const done = await record(row)
      show(row, "done", done.says)
      part(row, "sheet").hidden = true
      part(row, "link").href = done.href
      part(row, "link").hidden = false
      row.href = done.href
    } catch (problem) {
      show(row, "trouble", String(problem))
    }
  }

  async function send(wanted) {
    button.disabled = true
    form.querySelectorAll("[id^=p-]").forEach(one => one.replaceChildren())
    for (const row of wanted) await hand(row)
    button.disabled = false
    if (rows.length === 1 && rows[0].state === "done") location.assign(rows[0].href)
    else if (wanted.some(row => row.state === "done")) document.body.dispatchEvent(new Event("scans"))
  }

  function again(row) {
    if (!button.disabled) send([row])
  }

  form.addEventListener("submit", event => {
    if (!rows.length) return
    event.preventDefault()
    send(rows.filter(row => row.state !== "done"))
  })
  chooser.addEventListener("change", () => add([...chooser.files]))
  for (const kind of ["dragenter", "dragover"]) zone.addEventListener(kind, event => {
    event.preventDefault()
    zone.dataset.over = "yes"
  })
  for (const kind of ["dragleave", "drop"]) zone.addEventListener(kind, () => delete zone.dataset.over)
  zone.addEventListener("drop", event => {
    event.preventDefault()
    add([...event.dataTransfer.files])
  })
  if (chooser.files.length) add([...chooser.files])
})()
