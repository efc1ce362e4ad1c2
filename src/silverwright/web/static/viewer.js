// The scan under a zoom, with the grid or the marked places on it, moved by mouse, touch and keys. What stands in the form's fields is what counts:
// the marks are drawn from them and write into them, so that the page works the same without this script.
(() => {
  "use strict"
  const root = document.getElementById("viewer")
  if (!root || !window.OpenSeadragon) return
  const stage = root.querySelector(".stage")
  const form = document.getElementById("marks")
  const hand = document.getElementById("in-hand")
  const SVG = "http://www.w3.org/2000/svg"
  const BIG_STEP = 10
  const MOST = 102, LEAST = -2 // percent, as the form allows
  const CORNERS = ["where patch 1 is", "the end of its row", "the last patch", "the start of the last row"]
  const gentle = window.matchMedia("(prefers-reduced-motion: reduce)").matches

  const deep = document.createElement("div")
  deep.className = "deep"
  const over = document.createElementNS(SVG, "svg")
  over.setAttribute("class", "over")
  over.setAttribute("aria-hidden", "true")
  const handles = document.createElement("div")
  handles.className = "handles"
  const none = document.createElementNS(null, "style") // the viewer would write a style that the content policy refuses; it finds this and does not
  none.setAttribute("data-openseadragon-mobile-css", "true")
  document.head.append(none)
  const viewer = window.OpenSeadragon({
    element: deep, tileSources: root.dataset.tiles, drawer: "canvas", showNavigationControl: false, animationTime: gentle ? 0 : 0.4,
    maxZoomPixelRatio: 8, minZoomImageRatio: 0.8, visibilityRatio: 0.6, silenceMultiImageWarnings: true, cooperativeGestures: true,
    gestureSettingsMouse: { clickToZoom: false, dblClickToZoom: false }, gestureSettingsTouch: { clickToZoom: false, dblClickToZoom: false },
    gestureSettingsPen: { clickToZoom: false, dblClickToZoom: false },
  })
  let size = null
  let held = null
  let loupe = null
  let past = []

  // ---- percent of the scan to places on the screen, and back ----
  const onScreen = ([x, y]) => viewer.viewport.imageToViewerElementCoordinates(new OpenSeadragon.Point(x / 100 * size.x, y / 100 * size.y))
  const inScan = (x, y) => {
    const point = viewer.viewport.viewerElementToImageCoordinates(new OpenSeadragon.Point(x, y))
    return [point.x / size.x * 100, point.y / size.y * 100]
  }
  const field = name => form.elements[name]
  const number = name => parseFloat(field(name).value.replace(",", "."))
  const write = (name, value) => { field(name).value = String(Math.round(value * 1e4) / 1e4) }

  // ---- the grid ----
  const grid = {
    all: () => [1, 2, 3, 4].map(place => [number(`x${place}`), number(`y${place}`)]),
    put(corners) { corners.forEach(([x, y], place) => { write(`x${place + 1}`, x); write(`y${place + 1}`, y) }) },
    counts: () => [Math.round(number("rows")), Math.round(number("columns"))],
    label: (place, [x, y]) => `Corner ${place + 1}, ${CORNERS[place]}: ${x.toFixed(1)} % across, ${y.toFixed(1)} % down`,
    says: place => `Corner in hand: ${place + 1}, ${CORNERS[place]}. Arrow keys move it by one pixel, with Shift by ten.`,
    low: LEAST, high: MOST,
  }

  // Where (u, v) of the unit square lies when its corners lie on these four: a flat sheet seen askew.
  function within([[x0, y0], [x1, y1], [x2, y2], [x3, y3]], u, v) {
    const offX = x0 - x1 + x2 - x3, offY = y0 - y1 + y2 - y3
    const downX = x1 - x2, downY = y1 - y2, alongX = x3 - x2, alongY = y3 - y2
    const turn = downX * alongY - downY * alongX
    const g = (offX * alongY - offY * alongX) / turn, h = (downX * offY - downY * offX) / turn
    const away = g * u + h * v + 1
    return [((x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0) / away, ((y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0) / away]
  }

  function drawGrid(corners) {
    const [rows, columns] = grid.counts()
    outline(corners, "edge")
    if (!(rows >= 1 && rows <= 60 && columns >= 1 && columns <= 60)) return
    const out = moved() ? [] : root.dataset.out.split(" ").map(Number)
    for (let row = 0; row < rows; row++) for (let column = 0; column < columns; column++) {
      const at = (u, v) => within(corners, (column + u) / columns, (row + v) / rows)
      const middle = [at(0.25, 0.25), at(0.75, 0.25), at(0.75, 0.75), at(0.25, 0.75)]
      const place = row * columns + column + 1
      outline(middle, "cell-b")
      outline(middle, "cell")
      if (out.includes(place)) {
        line([middle[0], middle[2]], "out")
        line([middle[1], middle[3]], "out")
      }
      words(at(0.5, 0.87), place)
    }
  }

  // ---- the places of a picture ----
  const places = {
    rows: () => [...form.querySelectorAll("[data-place]")].filter(row => row.querySelector("[name$=x_percent]").value.trim()),
    all: () => places.rows().map(row => ["x", "y"].map(axis => parseFloat(row.querySelector(`[name$=${axis}_percent]`).value.replace(",", ".")))),
    put(found) { places.rows().forEach((row, place) => ["x", "y"].forEach((axis, at) => { row.querySelector(`[name$=${axis}_percent]`).value = String(Math.round(found[place][at] * 1e3) / 1e3) })) },
    label: (place, [x, y]) => `Place ${place + 1}: ${x.toFixed(1)} % across, ${y.toFixed(1)} % down`,
    says: place => `Place in hand: ${place + 1}. Arrow keys move it by one pixel, with Shift by ten; plus and minus change its size, as does the square beside it; Delete takes it away.`,
    low: 0, high: 100,
  }

  // How large a place is, and the square beside the one in hand by which that is changed.
  const SMALLEST_PX = 4 // of the scan, each way: sixteen pixels are the fewest that are measured
  const LARGER = 1.1
  const sizeOf = place => ["width", "height"].map(name => parseFloat(places.rows()[place].querySelector(`[name$=${name}_percent]`).value.replace(",", ".")) || 2)
  function resize(place, wanted) {
    ["width", "height"].forEach((name, at) => {
      const least = Math.max(0.1, SMALLEST_PX / (at ? size.y : size.x) * 100)
      places.rows()[place].querySelector(`[name$=${name}_percent]`).value = String(Math.round(Math.min(100, Math.max(least, wanted[at])) * 1e3) / 1e3)
    })
    redraw()
  }

  function drawPlaces(found) {
    found.forEach(([x, y], place) => {
      const [wide, high] = sizeOf(place).map(one => one / 2)
      const box = [[x - wide, y - high], [x + wide, y - high], [x + wide, y + high], [x - wide, y + high]]
      outline(box, "cell-b")
      outline(box, "cell")
      words([x, y - high], place + 1, -8)
    })
  }

  function addPlace([x, y]) {
    if (x < 0 || y < 0 || x > 100 || y > 100) return
    const free = [...form.querySelectorAll("[data-place]")].find(row => !row.querySelector("[name$=x_percent]").value.trim()) || moreRows()
    remember()
    const values = { x_percent: x, y_percent: y, width_percent: 2, height_percent: 2 * size.x / size.y }
    for (const [name, value] of Object.entries(values)) free.querySelector(`[name$=${name}]`).value = String(Math.round(value * 1e3) / 1e3)
    changed()
    const place = places.rows().indexOf(free)
    hold(place)
    reading.querySelector("input").focus({ preventScroll: true })
  }

  function moreRows() {
    const last = [...form.querySelectorAll("[data-place]")].pop()
    const fresh = last.cloneNode(true)
    const count = form.querySelectorAll("[data-place]").length
    fresh.querySelectorAll("input").forEach(one => {
      one.name = one.name.replace(/\.\d+\./, `.${count}.`)
      one.value = ""
      one.setAttribute("aria-label", one.getAttribute("aria-label").replace(/\d+$/, String(count + 1)))
    })
    fresh.dataset.place = String(count)
    fresh.querySelector("th").textContent = String(count + 1)
    last.after(fresh)
    return fresh
  }

  function removePlace(place) {
    remember()
    const rows = [...form.querySelectorAll("[data-place]")]
    const gone = rows.indexOf(places.rows()[place])
    for (let at = gone; at < rows.length; at++) {
      const mine = [...rows[at].querySelectorAll("input")], next = at + 1 < rows.length ? [...rows[at + 1].querySelectorAll("input")] : []
      mine.forEach((one, column) => { one.value = next[column] ? next[column].value : "" })
    }
    held = null
    reading.hidden = true
    changed()
    const left = grips()
    if (left.length) left[Math.min(place, left.length - 1)].focus()
  }

  // What the meter read at the place in hand is typed beside the tools, where the eye is; the table below has it too.
  const reading = document.getElementById("reading")
  const readingOf = at => places.rows()[at].querySelector("[name$=reading_ev]")
  if (reading) reading.querySelector("input").addEventListener("input", event => {
    if (held === null) return
    readingOf(held).value = event.target.value
    form.dispatchEvent(new Event("input", { bubbles: true }))
  })

  const marks = root.dataset.marks === "places" ? places : grid
  const draw = marks === grid ? drawGrid : drawPlaces

  // ---- drawing ----
  function path(points) {
    return points.map(point => { const at = onScreen(point); return `${at.x.toFixed(1)},${at.y.toFixed(1)}` }).join(" ")
  }
  function shape(kind, attributes) {
    const one = document.createElementNS(SVG, kind)
    for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value)
    over.append(one)
    return one
  }
  const outline = (points, kind) => shape("polygon", { points: path(points), class: kind })
  const line = (points, kind) => shape("polyline", { points: path(points), class: kind })
  function words(point, text, down = 5) {
    const at = onScreen(point)
    shape("text", { x: at.x.toFixed(1), y: (at.y + down).toFixed(1), "text-anchor": "middle" }).textContent = text
  }

  function redraw() {
    if (!size) return
    const found = marks.all()
    over.replaceChildren()
    if (found.every(point => point.every(Number.isFinite))) {
      draw(found)
      place(found)
    }
  }

  const grips = () => [...handles.querySelectorAll("[data-mark]")]
  function place(found) {
    const there = grips()
    while (there.length > found.length) there.pop().remove()
    while (there.length < found.length) {
      there.push(handle(there.length))
      handles.append(there[there.length - 1])
    }
    found.forEach((point, at) => {
      put(there[at], onScreen(point))
      there[at].setAttribute("aria-label", marks.label(at, point))
      there[at].setAttribute("aria-pressed", String(held === at))
    })
    if (marks === places) placeSizer(found, there)
    magnify(found)
  }
  const put = (one, where) => { one.style.transform = `translate(${where.x.toFixed(1)}px, ${where.y.toFixed(1)}px)` }

  // The square stands off the corner of a small place, or a finger could not tell it from the place itself.
  const OFF_PX = 44
  const edgeOf = (at, [x, y]) => {
    const middle = onScreen([x, y]), corner = onScreen([x + sizeOf(at)[0] / 2, y + sizeOf(at)[1] / 2])
    const out = { x: Math.max(corner.x - middle.x, OFF_PX), y: Math.max(corner.y - middle.y, OFF_PX) }
    const side = { x: middle.x + out.x + OFF_PX / 2 > deep.clientWidth ? -1 : 1, y: middle.y + out.y + OFF_PX / 2 > deep.clientHeight ? -1 : 1 }
    const off = { x: middle.x + side.x * out.x, y: middle.y + side.y * out.y }
    return { off, side, corner: [x + side.x * sizeOf(at)[0] / 2, y + side.y * sizeOf(at)[1] / 2] }
  }
  function placeSizer(found, there) {
    sizer.hidden = held === null || held >= found.length
    if (sizer.hidden) return
    if (there[held].nextSibling !== sizer) there[held].after(sizer)
    const { off, corner } = edgeOf(held, found[held])
    const [wide, high] = sizeOf(held)
    put(sizer, off)
    sizer.setAttribute("aria-label", `Size of place ${held + 1}: ${wide.toFixed(1)} % wide, ${high.toFixed(1)} % high`)
    const from = onScreen(corner)
    shape("polyline", { points: `${from.x.toFixed(1)},${from.y.toFixed(1)} ${off.x.toFixed(1)},${off.y.toFixed(1)}`, class: "edge" })
  }

  // The loupe shows what is under the hand while it drags, and what the keys move while they have the focus.
  let dragged = null
  let byKeys = true // a focus that no hand has set
  addEventListener("pointerdown", () => { byKeys = false }, true)
  addEventListener("keydown", () => { byKeys = true }, true)
  function magnify(found) {
    const by = dragged || (byKeys && handles.contains(document.activeElement) ? document.activeElement : null)
    if (!by || held === null || held >= found.length) return loupe.hide()
    const point = by === sizer ? edgeOf(held, found[held]).corner : found[held]
    loupe.show(viewer.viewport.imageToViewportCoordinates(point[0] / 100 * size.x, point[1] / 100 * size.y), onScreen(point))
  }

  // ---- moving ----
  // Whatever can be dragged and moved by keys: where it stands, and what a move of so many pixels on the screen, or of the scan, does to it.
  function grip(name, { begin, drag, key }) {
    const one = document.createElement("button")
    one.type = "button"
    one.className = name
    let from = null
    one.addEventListener("blur", redraw)
    one.addEventListener("pointerdown", event => {
      remember()
      one.setPointerCapture(event.pointerId)
      dragged = one
      from = { x: event.clientX, y: event.clientY, state: begin() }
      one.focus({ preventScroll: true })
      redraw()
      event.preventDefault()
    })
    one.addEventListener("pointermove", event => {
      if (from) drag(from.state, event.clientX - from.x, event.clientY - from.y)
    })
    for (const kind of ["pointerup", "pointercancel"]) one.addEventListener(kind, () => {
      dragged = null
      if (from) changed()
      from = null
    })
    one.addEventListener("keydown", event => {
      const step = event.shiftKey ? BIG_STEP : 1
      const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key]
      if (by || (marks === places && ["+", "=", "-"].includes(event.key))) {
        event.preventDefault()
        if (!event.repeat) remember()
        if (by) key(by[0] / size.x * 100, by[1] / size.y * 100)
        else resize(held, sizeOf(held).map(one => event.key === "-" ? one / LARGER : one * LARGER))
        changed()
      }
      if (marks === places && (event.key === "Delete" || event.key === "Backspace")) {
        event.preventDefault()
        removePlace(held)
      }
    })
    return one
  }

  function handle(at) {
    const one = grip("handle", {
      begin() { hold(at); return onScreen(marks.all()[at]) },
      drag: (mark, x, y) => move(at, inScan(mark.x + x, mark.y + y)),
      key(x, y) { const [left, top] = marks.all()[at]; move(at, [left + x, top + y]) },
    })
    one.dataset.mark = String(at)
    one.addEventListener("focus", () => { hold(at); show(at) })
    return one
  }

  const sizer = grip("handle size", {
    begin() { const [x, y] = places.all()[held]; return { side: edgeOf(held, [x, y]).side, size: sizeOf(held) } },
    drag(began, x, y) {
      const whole = onScreen([100, 100]), none = onScreen([0, 0])
      resize(held, [began.size[0] + 2 * began.side.x * x / (whole.x - none.x) * 100, began.size[1] + 2 * began.side.y * y / (whole.y - none.y) * 100])
    },
    key: (x, y) => resize(held, [sizeOf(held)[0] + 2 * x, sizeOf(held)[1] + 2 * y]),
  })
  sizer.hidden = true
  sizer.addEventListener("focus", redraw)

  function move(at, [x, y]) {
    const found = marks.all()
    found[at] = [Math.min(marks.high, Math.max(marks.low, x)), Math.min(marks.high, Math.max(marks.low, y))]
    marks.put(found)
    redraw()
  }

  function hold(at) {
    held = at
    if (hand) hand.textContent = marks.says(at)
    if (reading) {
      reading.hidden = false
      reading.querySelector("input").value = readingOf(at).value
    }
    redraw()
  }

  function show(at) {
    const where = onScreen(marks.all()[at])
    if (where.x < 0 || where.y < 0 || where.x > deep.clientWidth || where.y > deep.clientHeight) {
      const [x, y] = marks.all()[at]
      viewer.viewport.panTo(viewer.viewport.imageToViewportCoordinates(x / 100 * size.x, y / 100 * size.y), gentle)
    }
  }

  const values = () => [...form.querySelectorAll("input:not([type=hidden])")].map(one => one.value)
  const measured = JSON.stringify(values())
  const moved = () => root.dataset.moved === "yes" || JSON.stringify(values()) !== measured
  function remember() {
    past.push(values())
    tools.undo.disabled = false
  }
  function undo() {
    const before = past.pop()
    if (before) form.querySelectorAll("input:not([type=hidden])").forEach((one, at) => { one.value = before[at] ?? "" })
    tools.undo.disabled = past.length === 0
    changed()
  }
  function changed() {
    redraw()
    for (const one of document.querySelectorAll("[data-when=moved]")) one.hidden = !moved()
    form.dispatchEvent(new Event("input", { bubbles: true })) // the address keeps it
  }

  // ---- the tools ----
  const tools = {}
  for (const one of root.querySelectorAll("[data-tool]")) tools[one.dataset.tool] = one
  const act = {
    smaller: () => viewer.viewport.zoomBy(1 / 1.6),
    larger: () => viewer.viewport.zoomBy(1.6),
    whole: () => viewer.viewport.goHome(),
    pixels() {
      const [x, y] = held === null ? [50, 50] : marks.all()[held]
      viewer.viewport.zoomTo(viewer.viewport.imageToViewportZoom(1))
      viewer.viewport.panTo(viewer.viewport.imageToViewportCoordinates(x / 100 * size.x, y / 100 * size.y))
    },
    undo,
    mark() {
      const middle = viewer.viewport.viewportToImageCoordinates(viewer.viewport.getCenter())
      addPlace([middle.x / size.x * 100, middle.y / size.y * 100])
    },
  }
  for (const [name, one] of Object.entries(tools)) one.addEventListener("click", () => { act[name](); if (name !== "mark") redraw() })
  for (const one of document.querySelectorAll("[data-turn]")) one.addEventListener("click", event => {
    event.preventDefault()
    remember()
    const [a, b, c, d] = grid.all()
    grid.put(one.dataset.turn === "mirror" ? [b, a, d, c] : [d, a, b, c])
    if (one.dataset.turn === "quarter") [field("rows").value, field("columns").value] = [field("columns").value, field("rows").value]
    changed()
    hold(0)
  })
  form.addEventListener("input", event => { if (event.target !== form) { redraw(); for (const one of document.querySelectorAll("[data-when=moved]")) one.hidden = !moved() } })

  viewer.addHandler("open", () => {
    size = viewer.world.getItemAt(0).getContentSize()
    for (const one of stage.querySelectorAll(":scope > img, :scope > svg")) one.remove()
    stage.dataset.zoom = "yes"
    stage.style.height = `${Math.round(Math.min(innerHeight * 0.68, 640, Math.max(240, stage.clientWidth * size.y / size.x)))}px`
    stage.append(over, handles)
    loupe = window.loupe(stage, root.dataset.tiles, viewer)
    root.querySelector(".tools").hidden = false
    viewer.viewport.resize(new OpenSeadragon.Point(deep.clientWidth, deep.clientHeight)) // else the whole is fitted into the height that was
    viewer.viewport.goHome(true)
    redraw()
    root.dataset.ready = "yes"
  })
  viewer.addHandler("open-failed", () => deep.remove())
  for (const kind of ["update-viewport", "resize", "animation", "animation-finish"]) viewer.addHandler(kind, redraw)
  viewer.addHandler("canvas-click", event => {
    if (event.quick && marks === places) addPlace(inScan(event.position.x, event.position.y))
  })
  viewer.canvas.focus = () => HTMLElement.prototype.focus.call(viewer.canvas, { preventScroll: true }) // a click moves no page
  viewer.canvas.setAttribute("role", "application")
  viewer.canvas.setAttribute("aria-label", "The scan: arrow keys move it, plus and minus zoom, 0 shows the whole")
  const KEYS = new Set(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "+", "-", "=", "0"])
  viewer.addHandler("canvas-key", event => { event.preventDefaultAction = !KEYS.has(event.originalEvent.key) }) // no turning, no flipping
  viewer.addHandler("canvas-cooperative-gesture", event => { // one finger and the plain wheel belong to the page
    event.preventDefaultAction = true
    if (hand) hand.textContent = event.gesture === "scroll" ? "Hold Ctrl to zoom by the wheel." : "Two fingers move and zoom the scan; one finger moves the page or a mark."
  })
  stage.prepend(deep)
})()
