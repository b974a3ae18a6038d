// Lengths in words, as the tables say them.
const INCH = 0.0254; // m, exact
const inches = (metres) => {
  const eighths = Math.round(Math.abs(metres) / INCH * 8);
  const [whole, part] = [Math.floor(eighths / 8), eighths % 8];
  const fraction = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[part];
  return [whole || !part ? String(whole) : "", fraction].filter(Boolean).join(" ");
};
const millimetres = (metres) => `${(Math.abs(metres) * 1000).toFixed(1)} mm`;
// '24 1/8 in (612.8 mm)' where a design is in inches or feet, else '612.8 mm'.
const lengthWords = (metres) => (data.units === "in" || data.units === "ft"
  ? `${inches(metres)} in (${millimetres(metres)})` : millimetres(metres));
