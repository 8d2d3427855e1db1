// What the camera presets are called: of the house, of a panel that stands, slopes or lies flat.

const ABOVE = ["Above", "From above"];
const BELOW = ["Below", "From below"];
const END = ["End", "From the right-hand end"];
const CORNER = ["Iso", "From the front corner"];

const HOUSE = { weather: ["Front", "From the front"], room: ["Back", "From the back"], top: ["Top", "From above"] };
const STANDING = {
  weather: ["Weather", "From the weather side"],
  room: ["Room", "From the room side"],
  top: ["Top", "From above"],
};
const SLOPING = { ...STANDING, top: ["Ridge", "From its upper end, down the slope"] };
const FLAT = { top: ["Side", "From the far long side"] };

/** Each preset with its key, in the order of the buttons. */
export const PRESET_KEYS = { weather: "1", room: "2", top: "3", end: "4", iso: "5" };

/** [word, title] of each preset; `attitude` is that of the open panel, if one is open. */
export function presetNames(isOpen, attitude) {
  const [weather, room] = attitude.isUp ? [ABOVE, BELOW] : [BELOW, ABOVE];
  const own = attitude.isFlat ? { weather, room, ...FLAT } : isOpen ? (attitude.isSloping ? SLOPING : STANDING) : HOUSE;
  return { ...own, end: END, iso: CORNER };
}
