// One exposure that is being counted, and what one hears of it. The moments come from the phone's two clocks; nothing waits for the screen.
const COUNT_IN_S = 3
const WARN_S = 10
const SLIP_MS = 1000

// The time since a moment, when the phone slept or somebody set its clock meanwhile: a sleep counts, a clock set back does not.
function stopwatch(since = Date.now()) {
  let [wall, steady, gone] = [Date.now(), performance.now(), Date.now() - since]
  const watch = {
    unsure: 0,
    seconds() {
      const [wallNow, steadyNow] = [Date.now(), performance.now()]
      const [byWall, bySteady] = [wallNow - wall, steadyNow - steady]
      const slept = byWall - bySteady > SLIP_MS
      if (Math.abs(byWall - bySteady) > SLIP_MS) watch.unsure += Math.round((byWall - bySteady) / 1000)
      gone += slept ? byWall : bySteady
      wall = wallNow
      steady = steadyNow
      return gone / 1000
    },
  }
  return watch
}

// Sine tones with soft edges; silent until somebody has tapped, as phones demand.
function tones() {
  const Sound = window.AudioContext || window.webkitAudioContext
  let context = null
  return {
    wake() {
      if (!context && Sound) context = new Sound()
      if (context && context.state === "suspended") context.resume()
    },
    play(hertz, length, loud, later = 0) {
      if (!context) return
      const [from, tone, gain] = [context.currentTime + later, context.createOscillator(), context.createGain()]
      tone.frequency.value = hertz
      gain.gain.setValueAtTime(0, from)
      gain.gain.linearRampToValueAtTime(loud, from + 0.005)
      gain.gain.setValueAtTime(loud, from + length - 0.005)
      gain.gain.linearRampToValueAtTime(0, from + length)
      tone.connect(gain).connect(context.destination)
      tone.start(from)
      tone.stop(from + length)
    },
  }
}

// What is heard when a whole second begins; `left` counts down to the end and on below nothing.
function heard(sound, left, length) {
  const warn = length < 4 * WARN_S ? Math.round(length / 4) : WARN_S
  if (left === 0) sound.play(880, 1, 0.9)
  else if (left < 0) {
    if (left % 2 === 0) [0, 0.16].forEach(later => sound.play(880, 0.09, 0.9, later))
  } else if (left <= COUNT_IN_S) sound.play(660, 0.09, 0.8)
  else if (left === warn) [0, 0.16].forEach(later => sound.play(880, 0.09, 0.9, later))
  else if ((length - left) % 10 === 0) sound.play(440, 0.08, 0.3)
  else sound.play(440, 0.04, 0.15)
}

// Counts in, counts the exposure, and goes on counting what is too much until it is closed; `show` gets the state ten times a second.
// One that was open already, when the page was loaded anew, is counted on from its opening.
function counting(length, sound, show, since = null) {
  let opened = since
  let watch = stopwatch(opened === null ? undefined : opened.getTime())
  let last = null
  const timer = setInterval(step, 100)

  function step() {
    const gone = watch.seconds()
    if (opened === null && gone >= COUNT_IN_S) {
      opened = new Date()
      watch = stopwatch()
      last = null
      sound.play(880, 0.6, 0.9)
      return show({ opened, left: length, over: 0 })
    }
    const left = opened === null ? COUNT_IN_S - gone : length - gone
    const whole = Math.ceil(left - 0.05)
    if (whole !== last && (opened === null || gone > 0.5)) {
      if (opened === null) sound.play(660, 0.09, 0.8)
      else heard(sound, whole, length)
      last = whole
    }
    show(opened === null ? { opened, in: Math.max(1, Math.ceil(left)) } : { opened, left: Math.max(0, left), over: Math.max(0, -left) })
  }

  step()
  return {
    close() {
      clearInterval(timer)
      return opened === null ? null : { opened, given: Math.max(0.1, watch.seconds()), unsure: watch.unsure }
    },
  }
}
