// A loupe beside the hand: the finger hides the very corner that it moves, so a piece of the scan is shown larger, away from it.
window.loupe = (stage, tiles, main) => {
  "use strict"
  const TIMES = 2.5
  const SVG = "http://www.w3.org/2000/svg"
  const ACROSS = [[0, 50, 42, 50], [58, 50, 100, 50], [50, 0, 50, 42], [50, 58, 50, 100]] // percent of the glass: two hairs, open in the middle

  const glass = document.createElement("div")
  glass.className = "loupe"
  glass.setAttribute("aria-hidden", "true")
  const hairs = document.createElementNS(SVG, "svg")
  hairs.setAttribute("viewBox", "0 0 100 100")
  for (const kind of ["cell-b", "cell"]) for (const [x0, y0, x1, y1] of ACROSS) {
    const hair = document.createElementNS(SVG, "polyline")
    hair.setAttribute("points", `${x0},${y0} ${x1},${y1}`)
    hair.setAttribute("class", kind)
    hairs.append(hair)
  }
  const picture = document.createElement("div")
  picture.className = "deep"
  glass.append(picture, hairs)
  stage.append(glass)

  // The same tiles under a viewer of its own: what is shown larger is the scan itself, not the screen.
  let viewer = null
  function begin() {
    viewer = window.OpenSeadragon({
      element: picture, tileSources: tiles, drawer: "canvas", showNavigationControl: false, mouseNavEnabled: false, keyboardNavEnabled: false,
      animationTime: 0, blendTime: 0, immediateRender: true, visibilityRatio: 0, minZoomLevel: 0.01, maxZoomPixelRatio: 100, silenceMultiImageWarnings: true,
    })
    viewer.addHandler("open", () => look())
    viewer.canvas.removeAttribute("tabindex")
  }

  let wanted = null
  function look() {
    if (!wanted || !viewer.world.getItemCount()) return
    const scale = main.viewport.getZoom(true) * main.viewport.getContainerSize().x
    viewer.viewport.zoomTo(TIMES * scale / viewer.viewport.getContainerSize().x, null, true)
    viewer.viewport.panTo(wanted, true)
    viewer.viewport.applyConstraints(true)
  }

  // Above the hand, on the other side of the scan, and where the window shows it.
  function show(point, at) {
    wanted = point
    glass.dataset.shown = "yes" // seen or unseen, it keeps its size: its viewer needs one
    const there = stage.getBoundingClientRect()
    glass.style.left = at.x < there.width / 2 ? "auto" : "var(--s2)"
    glass.style.right = at.x < there.width / 2 ? "var(--s2)" : "auto"
    glass.style.top = `${Math.max(8, Math.min(8 - there.top, there.height - glass.offsetHeight - 8))}px`
    viewer ? look() : begin()
  }
  function hide() {
    wanted = null
    delete glass.dataset.shown
  }
  return { show, hide, times: TIMES }
}
