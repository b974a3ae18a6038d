// What the rest of the page asks of the picture.
return {
  start: startPicture,
  shape: takeShape,
  words: takeWords,
  cage: takeCage,
  lines: (lines) => { taken.lines = lines; redraw(); },
  wanted: (lines) => { taken.wanted = lines; redraw(); },
  differs: (differs) => { // asked with every step of a slider
    if (taken.differs === differs) return;
    taken.differs = differs;
    redraw();
  },
  light: (part) => { taken.lit = part; redraw(); },
  whole: () => { makeRoom(); sayMeasure(); },
  focus: () => views.length && views[0].canvas.focus(),
};
