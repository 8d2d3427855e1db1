// Quantities as a person reads them: feet and inches to the nearest sixteenth, with millimetres beside them.

const MM_PER_INCH = 25.4;
const KG_PER_LB = 0.45359237;
const STEPS = 16;

/** Round half to even, as the tool does elsewhere. */
function round(value) {
  const low = Math.floor(value);
  const rest = value - low;
  if (rest !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
}

/** A length in mm as 8'-1 1/8". */
export function feetInches(mm) {
  const steps = round((mm / MM_PER_INCH) * STEPS);
  const size = Math.abs(steps);
  const feet = Math.floor(size / (12 * STEPS));
  const inches = Math.floor((size % (12 * STEPS)) / STEPS);
  let top = size % STEPS;
  let bottom = STEPS;
  while (top && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return `${steps < 0 ? "-" : ""}${feet}'-${inches}${top ? ` ${top}/${bottom}` : ""}"`;
}

/** A length in mm to 0.1. */
export function millimetres(mm) {
  return `${Number(mm.toFixed(1))} mm`;
}

/** Both. */
export function both(mm) {
  return `${feetInches(mm)} (${millimetres(mm)})`;
}

/** A mass in kg and pounds. */
export function mass(kg) {
  const digits = kg < 10 ? 2 : kg < 100 ? 1 : 0;
  return `${kg.toFixed(digits)} kg (${(kg / KG_PER_LB).toFixed(digits)} lb)`;
}

/** A measured value in its unit. */
export function quantity(value, unit) {
  if (unit === "mm") return both(value);
  return `${Number(value.toPrecision(4))} ${unit}`.trim();
}

const SIZE_NAMES = {
  member: ["length", "width", "thickness"],
  sheet: ["height", "length", "thickness"],
  run: ["outside width", "outside depth"],
  fitting: ["length"],
  box: ["width", "height", "depth"],
  sleeve: ["diameter"],
  opening: ["rough opening width", "rough opening height"],
  bay: ["depth"],
  fasteners: ["length", "shank"],
  truss: ["span", "height"],
};

/** [name, text] of each size of a part. */
export function sizes(part) {
  const names = part.kind === "run" && part.sizes.length === 1 ? ["outside diameter"] : (SIZE_NAMES[part.kind] ?? []);
  return part.sizes.map((size, place) => [names[place] ?? "size", both(size)]);
}

/** What a part is called: what it is and its mark, or its id where it has no mark. */
export function partName(part) {
  return `${part.what} ${part.mark || part.id}`;
}
