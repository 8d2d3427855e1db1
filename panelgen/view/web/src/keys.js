// What each key does while the canvas has the focus.

const TURN = Math.PI / 24;
const SLIDE = 40;
const NEARER = 1.15;

/** Handle a key press for a view; true where the key was one of ours. */
export function press(view, event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const { stage } = view;
  const shift = event.shiftKey;
  const keys = {
    ArrowLeft: () => stage.nudge(shift ? { right: -SLIDE } : { turn: -TURN }),
    ArrowRight: () => stage.nudge(shift ? { right: SLIDE } : { turn: TURN }),
    ArrowUp: () => stage.nudge(shift ? { up: SLIDE } : { tilt: -TURN }),
    ArrowDown: () => stage.nudge(shift ? { up: -SLIDE } : { tilt: TURN }),
    "+": () => stage.nudge({ zoom: NEARER }),
    "=": () => stage.nudge({ zoom: NEARER }),
    "-": () => stage.nudge({ zoom: 1 / NEARER }),
    1: () => view.look("weather"),
    2: () => view.look("room"),
    3: () => view.look("top"),
    4: () => view.look("end"),
    5: () => view.look("iso"),
    f: () => view.fit(),
    o: () => view.setOrthographic(!view.orthographic),
    p: () => (shift ? view.showAll() : view.peel()),
    g: () => view.ghosts(),
    e: () => view.setExplode(view.house.explode ? 0 : 1),
    x: () => view.nextSection(),
    "[": () => view.setStep(Math.max(0, view.step - 1)),
    "]": () => view.setStep(view.step + 1),
    ",": () => view.selectNext(-1),
    ".": () => view.selectNext(1),
    n: () => view.nextFinding(shift ? -1 : 1),
    m: () => view.setMeasuring(!view.measure.active),
    " ": () => view.clickMiddle(),
    Enter: () => view.openSelected(),
    Escape: () => view.back(),
    "?": () => view.dispatchEvent(new CustomEvent("help")),
  };
  const act = keys[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!act) return false;
  act();
  return true;
}
