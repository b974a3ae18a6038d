// Numbers as she writes them: "7 1/2", "12 mm", "5 %"; and read back, so that a slider can follow what is typed.
const FINEST = 16; // parts of an inch
const FACTORS = {in: 0.0254, "\"": 0.0254, inch: 0.0254, inches: 0.0254, ft: 0.3048, "'": 0.3048, yd: 0.9144,
  mm: 0.001, cm: 0.01, m: 1, kg: 1, g: 0.001, lb: 0.45359237, oz: 0.028349523125, "%": 0.01};
const SIGNS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"};
const DIGITS = 4; // behind the point

const divisor = (a, b) => (b ? divisor(b, a % b) : a);
const fraction = (value) => {
  const parts = Math.round(Math.abs(value) * FINEST);
  const [whole, rest] = [Math.floor(parts / FINEST), parts % FINEST];
  const common = divisor(rest, FINEST);
  const words = [whole || !rest ? String(whole) : "", rest ? `${rest / common}/${FINEST / common}` : ""];
  return (value < 0 && parts ? "-" : "") + words.filter(Boolean).join(" ");
};
const isFraction = (value) => Math.abs(value * FINEST - Math.round(value * FINEST)) < 1e-3;
// The number alone, of a value in SI.
const bare = (control, value) => {
  const own = value / control.scale;
  if (control.fractions && isFraction(own)) return fraction(own);
  return String(Number(own.toFixed(DIGITS)));
};
const written = (control, value) => bare(control, value) + (control.suffix || "");
// The same with its unit, to be read out.
const spoken = (control, value) => `${bare(control, value)} ${control.unit || ""}`.trim();

const NUMBER = /^([-−])?\s*(\d+(?:[.,]\d+)?|[.,]\d+)?(?:(?:\s+|-)?(\d+)\s*\/\s*(\d+))?\s*([a-z%"']*(?:\/[a-z]+[2²]?)?)\.?$/i;
// SI value of what was written, null where this page cannot tell: then the slider stays where it is.
const valueOf = (control, text) => {
  const plain = String(text).trim().replace(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${SIGNS[sign]}`).trim();
  // "1/2" is a fraction alone; "7 1/2" a whole number and one.
  const alone = /^([-−])?(\d+)\s*\/\s*(\d+)\s*([a-z%"']*)$/i.exec(plain);
  const found = alone ? [0, alone[1], 0, alone[2], alone[3], alone[4]] : NUMBER.exec(plain);
  if (!found || (found[2] === undefined && found[3] === undefined)) return null;
  const [, minus, whole = 0, above = 0, below = 1, unit] = found;
  const size = Number(String(whole).replace(",", ".")) + Number(above) / Number(below);
  const factor = unit && unit.toLowerCase() !== control.unit ? FACTORS[unit.toLowerCase()] : control.scale;
  return Number.isFinite(size) && factor ? (minus ? -1 : 1) * size * factor : null;
};
const BARE = /^[-−\d\s.,/½¼¾⅛⅜⅝⅞]+$/;
// A bare number in a box that stands in another unit than the design means that unit.
const withUnit = (control, text) => (control.suffix && BARE.test(text) ? text + control.suffix : text);
