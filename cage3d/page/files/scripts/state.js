// How the page stands: what the hands, the switches and the address change, and what is drawn from it.
const OPENING_VIEW = {turn: 28, rise: 14};
const degrees = Math.PI / 180;
const isStill = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
const within = (value, low, high) => Math.min(high, Math.max(low, value));
const camera = {turn: OPENING_VIEW.turn * degrees, rise: OPENING_VIEW.rise * degrees, zoom: 1, shift: [0, 0]};
// from and to: stages that the cage changes between; share: how far it has come, 1 once it stands.
const dressing = {from: OPENING_STAGE, to: OPENING_STAGE, share: 1};
const measuring = {on: false, view: 0, points: []};
const marksOn = document.getElementById("marks-on");
const pullsOn = document.getElementById("pulls-on");
let opaqueSkirt = document.getElementById("skirt-opaque");

const views = []; // one a cage, made by startViews
let waiting = false;
let changed = () => {}; // told after every change by hand; the address listens
const redraw = () => {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => waiting && drawNow());
};
// At once, which spares a shape that has just come the wait for the next frame.
const drawNow = () => {
  waiting = false;
  views.forEach((view) => view.draw());
  changed();
};
