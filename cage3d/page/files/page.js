"use strict";
// The 3D view of one cage. Metres; x to the wearer's left, y to her back, z up, as everywhere in cage3d.
(() => {
  const data = JSON.parse(document.getElementById("cage-data").textContent);
  const canvas = document.getElementById("view");
  const overlay = document.getElementById("marks");
  const marksOn = document.getElementById("marks-on");
  const gl = canvas.getContext("webgl2", {antialias: true, preserveDrawingBuffer: true})
    || canvas.getContext("webgl", {antialias: true, preserveDrawingBuffer: true});
  if (!gl) {
    document.body.classList.add("no-3d");
    return;
  }
  document.body.classList.add("with-3d");

  // ---- parts -> buffers --------------------------------------------------------------------------
  const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;
  const buffer = (target, content) => {
    const made = gl.createBuffer();
    gl.bindBuffer(target, made);
    gl.bufferData(target, content, gl.STATIC_DRAW);
    return made;
  };
  if (!(window.WebGL2RenderingContext && gl instanceof WebGL2RenderingContext)) {
    gl.getExtension("OES_element_index_uint");
  }
  const parts = data.parts.map((part) => ({
    ...part,
    places: buffer(gl.ARRAY_BUFFER, new Uint16Array(bytes(part.positions))),
    normals: buffer(gl.ARRAY_BUFFER, new Int8Array(bytes(part.normals))),
    corners: buffer(gl.ELEMENT_ARRAY_BUFFER, new Uint32Array(bytes(part.indices))),
    count: part.indexCount,
  }));
  const opaque = parts.filter((part) => part.colour[3] >= 1);
  const clear = parts.filter((part) => part.colour[3] < 1);

  // ---- shading -----------------------------------------------------------------------------------
  const vertexShader = `
    attribute vec3 place; attribute vec3 normal;
    uniform mat4 toScreen; uniform vec3 low; uniform vec3 size;
    varying vec3 at; varying vec3 facing;
    void main() { at = low + size * place; facing = normal; gl_Position = toScreen * vec4(at, 1.0); }`;
  const fragmentShader = `
    precision highp float;
    uniform vec3 eye; uniform vec3 right; uniform vec4 colour; uniform float metal; uniform float rough;
    varying vec3 at; varying vec3 facing;
    void main() {
      vec3 view = normalize(eye - at);
      vec3 n = normalize(facing);
      if (dot(n, view) < 0.0) n = -n;
      vec3 key = normalize(view + 0.55 * vec3(0.0, 0.0, 1.0) - 0.45 * right);
      float light = 0.62 + 0.18 * n.z + 0.32 * max(dot(n, key), 0.0);
      vec3 mirrored = reflect(-view, n);
      float room = smoothstep(-0.35, 0.75, mirrored.z) * 0.75 + 0.3;
      vec3 cloth = colour.rgb * light;
      vec3 steel = colour.rgb * (0.5 * light + 0.75 * room);
      float shine = pow(max(dot(mirrored, key), 0.0), mix(60.0, 8.0, rough)) * mix(0.04, 0.5, metal);
      gl_FragColor = vec4((mix(cloth, steel, metal) + shine) * colour.a, colour.a);
    }`;
  const compiled = (kind, text) => {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    return shader;
  };
  const program = gl.createProgram();
  gl.attachShader(program, compiled(gl.VERTEX_SHADER, vertexShader));
  gl.attachShader(program, compiled(gl.FRAGMENT_SHADER, fragmentShader));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program));
  gl.useProgram(program);
  const uniform = {};
  for (const name of ["toScreen", "low", "size", "eye", "right", "colour", "metal", "rough"]) {
    uniform[name] = gl.getUniformLocation(program, name);
  }
  const placeSlot = gl.getAttribLocation(program, "place");
  const normalSlot = gl.getAttribLocation(program, "normal");
  gl.enableVertexAttribArray(placeSlot);
  gl.enableVertexAttribArray(normalSlot);

  // ---- camera ------------------------------------------------------------------------------------
  const OPENING = 24 * Math.PI / 180; // a long lens: little distortion, so widths look as they measure
  const reach = Math.hypot(data.tall, data.wide);
  const NARROW = 560; // px, a telephone held upright: room for the hoops' bare lengths only
  // Width in pixels that labels take at the right (1) and the left (-1) of the frame.
  const columnWidth = (side) => (!marksOn.checked || !data.labels.some((label) => label.side === side) ? 24
    : canvas.clientWidth >= 760 ? 244 : canvas.clientWidth >= NARROW && side > 0 ? 196 : side > 0 || canvas.clientWidth >= NARROW ? 84 : 12);
  const camera = {turn: 0, rise: 0, zoom: 1, shift: [0, 0]};
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  let screen = null;
  const look = () => {
    const {turn, rise, zoom, shift} = camera;
    const [ct, st, cr, sr] = [Math.cos(turn), Math.sin(turn), Math.cos(rise), Math.sin(rise)];
    // turn 0 stands in front of her (at -y); a quarter turn stands at her left.
    const out = [st * cr, -ct * cr, sr];
    const right = [ct, st, 0];
    const up = [-st * sr, ct * sr, cr];
    const aspect = canvas.clientWidth / canvas.clientHeight;
    const half = Math.tan(OPENING / 2);
    // What the labels leave of the width, and how far its middle lies off that of the frame.
    const room = Math.max(0.4, 1 - (columnWidth(1) + columnWidth(-1)) / canvas.clientWidth);
    const aside = (columnWidth(-1) - columnWidth(1)) / canvas.clientWidth;
    const tall = data.tall * cr + data.ground * Math.abs(sr);
    const far = (Math.max(tall / half, data.wide / (half * aspect * room)) * 1.06 + 0.4 * data.wide * cr) / zoom;
    const centre = data.centre.map((c, i) => c + right[i] * shift[0] + up[i] * shift[1]);
    const eye = centre.map((c, i) => c + out[i] * far);
    const [near, end] = [Math.max(far - 4 * reach, far * 0.02), far + 4 * reach];
    const [fx, fy] = [1 / (half * aspect), 1 / half];
    const [a, b] = [-(end + near) / (end - near), -2 * end * near / (end - near)];
    const [tr, tu, to] = [-dot(right, eye), -dot(up, eye), -dot(out, eye)];
    const matrix = new Float32Array([
      fx * right[0] - aside * out[0], fy * up[0], a * out[0], -out[0],
      fx * right[1] - aside * out[1], fy * up[1], a * out[1], -out[1],
      fx * right[2] - aside * out[2], fy * up[2], a * out[2], -out[2],
      fx * tr - aside * to, fy * tu, a * to + b, -to]);
    screen = (p) => {
      const w = matrix[3] * p[0] + matrix[7] * p[1] + matrix[11] * p[2] + matrix[15];
      const x = (matrix[0] * p[0] + matrix[4] * p[1] + matrix[8] * p[2] + matrix[12]) / w;
      const y = (matrix[1] * p[0] + matrix[5] * p[1] + matrix[9] * p[2] + matrix[13]) / w;
      return [(x + 1) / 2 * canvas.clientWidth, (1 - y) / 2 * canvas.clientHeight];
    };
    return {matrix, eye, right, perPixel: 2 * far * half / canvas.clientHeight};
  };

  // ---- drawing -----------------------------------------------------------------------------------
  const drawPart = (part) => {
    gl.bindBuffer(gl.ARRAY_BUFFER, part.places);
    gl.vertexAttribPointer(placeSlot, 3, gl.UNSIGNED_SHORT, true, 8, 0);
    gl.bindBuffer(gl.ARRAY_BUFFER, part.normals);
    gl.vertexAttribPointer(normalSlot, 3, gl.BYTE, true, 4, 0);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, part.corners);
    gl.uniform3fv(uniform.low, part.low);
    gl.uniform3fv(uniform.size, part.size);
    gl.uniform4fv(uniform.colour, part.colour);
    gl.uniform1f(uniform.metal, part.metal);
    gl.uniform1f(uniform.rough, part.rough);
    gl.drawElements(gl.TRIANGLES, part.count, gl.UNSIGNED_INT, 0);
  };
  const draw = () => {
    const sharp = Math.min(window.devicePixelRatio || 1, 2);
    const [width, height] = [Math.round(canvas.clientWidth * sharp), Math.round(canvas.clientHeight * sharp)];
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const {matrix, eye, right, perPixel} = look();
    gl.viewport(0, 0, width, height);
    gl.clearColor(1, 1, 1, 1);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.BLEND);
    gl.disable(gl.CULL_FACE);
    gl.uniformMatrix4fv(uniform.toScreen, false, matrix);
    gl.uniform3fv(uniform.eye, eye);
    gl.uniform3fv(uniform.right, right);
    opaque.filter((part) => part.shown).forEach(drawPart);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    gl.enable(gl.CULL_FACE);
    for (const side of [gl.FRONT, gl.BACK]) { // far sides first
      gl.cullFace(side);
      clear.filter((part) => part.shown).forEach(drawPart);
    }
    drawMarks(perPixel);
  };
  let waiting = false;
  const redraw = () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; draw(); });
  };

  // ---- lengths beside the cage ---------------------------------------------------------------------
  const svg = (name, attributes, text) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text !== undefined) made.textContent = text;
    return made;
  };
  // Labels stand in a column and never on each other: pushed down from the top, then up from the bottom.
  const spread = (labels, step, bottom) => {
    labels.sort((a, b) => a.y - b.y);
    labels.forEach((label, i) => {
      if (i) label.y = Math.max(label.y, labels[i - 1].y + Math.max(step(label), step(labels[i - 1])));
    });
    let limit = bottom;
    for (const label of labels.slice().reverse()) {
      label.y = Math.min(label.y, limit);
      limit = label.y - step(label);
    }
  };
  const visible = (label) => parts.some((part) => part.shown && part.group === label.group
    && (!part.number || part.number === label.number));
  const drawMarks = (perPixel) => {
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    overlay.setAttribute("viewBox", `0 0 ${width} ${height}`);
    overlay.replaceChildren();
    drawRuler(perPixel, width, height);
    if (!marksOn.checked) return;
    const roomy = width >= 760;
    const columns = {1: [], "-1": []};
    const narrow = width < NARROW;
    for (const label of data.labels.filter(visible)) {
      if (narrow && label.side < 0) continue;
      const points = label.path.map(screen);
      if (label.side === 0) { // a number at the end of a tape
        const [x, y] = points[0];
        overlay.append(svg("circle", {cx: x, cy: y, r: 9, class: "badge"}));
        overlay.append(svg("text", {x, y: y + 4, class: "number"}, label.text));
        continue;
      }
      const from = points.reduce((best, p) => (p[0] * label.side > best[0] * label.side ? p : best));
      columns[label.side].push({...label, from, y: from[1]});
    }
    for (const side of [1, -1]) {
      const column = columns[side];
      spread(column, (label) => (label.more && roomy ? 38 : 21), height - 46);
      const edge = side > 0 ? width - columnWidth(1) : columnWidth(-1);
      for (const label of column) {
        const elbow = edge - side * 10;
        overlay.append(svg("polyline", {points: `${label.from} ${elbow},${label.y} ${edge},${label.y}`, class: "leader"}));
        overlay.append(svg("circle", {cx: label.from[0], cy: label.from[1], r: 2.5, class: "dot"}));
        const anchor = side > 0 ? "start" : "end";
        overlay.append(svg("text", {x: edge + side * 5, y: label.y + 4, "text-anchor": anchor, class: "said"}, narrow || (!roomy && label.side < 0) ? label.short : label.text));
        if (label.more && roomy) {
          overlay.append(svg("text", {x: edge + side * 5, y: label.y + 19, "text-anchor": anchor, class: "more"}, label.more));
        }
      }
    }
  };
  const drawRuler = (perPixel, width, height) => {
    const [left, base] = [16, height - 16];
    const wanted = Math.min(180, width / 3) * perPixel;
    const fits = data.rulers.filter((ruler) => ruler.length <= wanted);
    const ruler = fits.length ? fits[fits.length - 1] : data.rulers[0];
    const long = ruler.length / perPixel;
    overlay.append(svg("path", {d: `M${left} ${base - 6}V${base}H${left + long}V${base - 6}`, class: "ruler"}));
    overlay.append(svg("text", {x: left, y: base - 10, class: "more"}, `${ruler.text} at the middle of the cage`));
  };

  // ---- hands and keys ----------------------------------------------------------------------------
  const within = (value, low, high) => Math.min(high, Math.max(low, value));
  const turnBy = (across, up) => {
    camera.turn += across;
    camera.rise = within(camera.rise + up, -0.35, Math.PI / 2);
    redraw();
  };
  const zoomBy = (factor) => { camera.zoom = within(camera.zoom * factor, 0.3, 12); redraw(); };
  const shiftBy = (across, up) => {
    const {perPixel} = look();
    camera.shift = [camera.shift[0] - across * perPixel, camera.shift[1] + up * perPixel];
    redraw();
  };
  const held = new Map();
  const between = () => {
    const [a, b] = [...held.values()];
    return Math.hypot(a[0] - b[0], a[1] - b[1]);
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, [event.clientX, event.clientY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = held.get(event.pointerId);
    if (!last) return;
    const before = held.size === 2 ? between() : 0;
    held.set(event.pointerId, [event.clientX, event.clientY]);
    const [dx, dy] = [event.clientX - last[0], event.clientY - last[1]];
    if (held.size === 2) {
      zoomBy(between() / Math.max(before, 1));
      shiftBy(dx / 2, dy / 2);
    } else if (event.shiftKey || event.buttons & 6) shiftBy(dx, dy);
    else turnBy(-dx * 0.008, dy * 0.008);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(end, (event) => held.delete(event.pointerId));
  }
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoomBy(Math.exp(-within(event.deltaY, -200, 200) * 0.0015));
  }, {passive: false});
  const keys = {
    ArrowLeft: () => turnBy(0.1, 0), ArrowRight: () => turnBy(-0.1, 0),
    ArrowUp: () => turnBy(0, 0.1), ArrowDown: () => turnBy(0, -0.1),
    "+": () => zoomBy(1.15), "=": () => zoomBy(1.15), "-": () => zoomBy(1 / 1.15),
  };
  canvas.addEventListener("keydown", (event) => {
    if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    keys[event.key]();
  });
  const degrees = Math.PI / 180;
  const stand = (turn, rise) => {
    Object.assign(camera, {turn: turn * degrees, rise: rise * degrees, zoom: 1, shift: [0, 0]});
    redraw();
  };
  for (const button of document.querySelectorAll("button[data-turn]")) {
    button.addEventListener("click", () => stand(Number(button.dataset.turn), Number(button.dataset.rise)));
  }
  for (const button of document.querySelectorAll("button[data-zoom]")) {
    button.addEventListener("click", () => zoomBy(Number(button.dataset.zoom)));
  }

  // ---- parts on and off --------------------------------------------------------------------------
  const boxes = [...document.querySelectorAll("input[data-part]")];
  const groupBoxes = [...document.querySelectorAll("input[data-group]")];
  const refresh = () => {
    for (const box of boxes) parts[Number(box.dataset.part)].shown = box.checked;
    for (const group of groupBoxes) {
      const own = boxes.filter((box) => box.dataset.of === group.dataset.group);
      group.checked = own.some((box) => box.checked);
      group.indeterminate = group.checked && !own.every((box) => box.checked);
    }
    redraw();
  };
  boxes.forEach((box) => box.addEventListener("change", refresh));
  groupBoxes.forEach((group) => group.addEventListener("change", () => {
    for (const box of boxes) if (box.dataset.of === group.dataset.group) box.checked = group.checked;
    refresh();
  }));
  marksOn.addEventListener("change", redraw);
  canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  canvas.addEventListener("webglcontextrestored", () => location.reload());
  new ResizeObserver(redraw).observe(canvas);
  refresh();
  stand(28, 14);
})();
