// The solid parts, by WebGL. A part that moves is drawn between two stages of hanging.
const vertexShader = `
  attribute vec3 place; attribute vec3 normal; attribute vec3 placeTo; attribute vec3 normalTo;
  uniform mat4 toScreen; uniform vec3 low; uniform vec3 size; uniform vec3 lowTo; uniform vec3 sizeTo;
  uniform float share;
  varying vec3 at; varying vec3 facing;
  void main() {
    at = mix(low + size * place, lowTo + sizeTo * placeTo, share);
    facing = mix(normal, normalTo, share);
    gl_Position = toScreen * vec4(at, 1.0);
  }`;
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
const compiled = (gl, kind, text) => {
  const shader = gl.createShader(kind);
  gl.shaderSource(shader, text);
  gl.compileShader(shader);
  return shader;
};
const linkedProgram = (gl, ofPlaces = vertexShader, ofColours = fragmentShader) => {
  const program = gl.createProgram();
  gl.attachShader(program, compiled(gl, gl.VERTEX_SHADER, ofPlaces));
  gl.attachShader(program, compiled(gl, gl.FRAGMENT_SHADER, ofColours));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program));
  return program;
};

const drawn = {printing: false};
const ground = () => { // of the frame, which is light on paper
  if (drawn.printing) return [1, 1, 1];
  const written = getComputedStyle(document.documentElement).getPropertyValue("--ground").trim();
  return [1, 3, 5].map((at) => parseInt(written.slice(at, at + 2), 16) / 255);
};

// The floor goes with the ground that it lies on: in the dark it is no lamp.
const FLOOR_SHARE = 0.3; // of its own colour, in the dark
const colourOf = (part, behind) => {
  const dark = behind[0] + behind[1] + behind[2] < 1.5;
  if (part.group !== "floor" || !dark) return part.colour.slice(0, 3);
  return behind.map((value, i) => value + FLOOR_SHARE * (part.colour[i] - value));
};

const OVER_TAPES = 0.03; // m

// For one canvas: draw(parts, stages, camera's look, width and height in device pixels); take(part), whose shapes are
// new, into the graphics hardware; drop(part), which is shown no more.
const partsDrawer = (gl, parts) => {
  if (!(window.WebGL2RenderingContext && gl instanceof WebGL2RenderingContext)) {
    gl.getExtension("OES_element_index_uint");
  }
  const program = linkedProgram(gl);
  const uniform = new Proxy({}, {get: (known, name) => known[name] ??= gl.getUniformLocation(program, name)});
  const slots = ["place", "normal", "placeTo", "normalTo"].map((name) => gl.getAttribLocation(program, name));
  const filled = (target, content, held = gl.createBuffer()) => {
    gl.bindBuffer(target, held);
    gl.bufferData(target, content, gl.DYNAMIC_DRAW);
    return held;
  };
  const buffers = new Map();
  const take = (part) => {
    const held = buffers.get(part) || {corners: filled(gl.ELEMENT_ARRAY_BUFFER, part.corners), shapes: {}};
    for (const [stage, shape] of Object.entries(part.shapes)) {
      const before = held.shapes[stage] || {};
      held.shapes[stage] = {places: filled(gl.ARRAY_BUFFER, shape.positions, before.places),
        normals: filled(gl.ARRAY_BUFFER, shape.normals, before.normals)};
    }
    buffers.set(part, held);
  };
  const drop = (part) => {
    const {corners, shapes} = buffers.get(part);
    for (const held of [corners, ...Object.values(shapes).flatMap(Object.values)]) gl.deleteBuffer(held);
    buffers.delete(part);
  };
  parts.forEach(take);
  const pointAt = (slot, held, kind, stride) => {
    gl.bindBuffer(gl.ARRAY_BUFFER, held);
    gl.vertexAttribPointer(slot, 3, kind, true, stride, 0);
  };
  const drawPart = (part, stages, opacity, behind, floor) => {
    const held = buffers.get(part);
    const [from, to] = stages.map((stage) => held.shapes[stage] || held.shapes[WORN]);
    pointAt(slots[0], from.places, gl.UNSIGNED_SHORT, 8);
    pointAt(slots[1], from.normals, gl.BYTE, 4);
    pointAt(slots[2], to.places, gl.UNSIGNED_SHORT, 8);
    pointAt(slots[3], to.normals, gl.BYTE, 4);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, held.corners);
    const [a, b] = stages.map((stage) => shapeOf(part, stage));
    const drawn = ([x, y, z]) => (part.group === "floor" ? [floor * x, floor * y, z] : [x, y, z]);
    gl.uniform3fv(uniform.low, drawn(a.low));
    gl.uniform3fv(uniform.size, drawn(a.size));
    gl.uniform3fv(uniform.lowTo, drawn(b.low));
    gl.uniform3fv(uniform.sizeTo, drawn(b.size));
    gl.uniform1f(uniform.share, dressing.share);
    gl.uniform4fv(uniform.colour, [...colourOf(part, behind), opacity]);
    gl.uniform1f(uniform.metal, part.metal);
    gl.uniform1f(uniform.rough, part.rough);
    gl.drawElements(gl.TRIANGLES, part.indexCount, gl.UNSIGNED_INT, 0);
  };
  const draw = (shown, stages, {matrix, floor, depth, eye, right}, width, height) => {
    gl.useProgram(program);
    slots.forEach((slot) => gl.enableVertexAttribArray(slot));
    gl.viewport(0, 0, width, height);
    const behind = ground();
    gl.clearColor(...behind, 1);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.BLEND);
    gl.enable(gl.CULL_FACE); // bodies are closed, so what faces away is hidden; a skirt is not
    gl.cullFace(gl.BACK);
    gl.uniformMatrix4fv(uniform.toScreen, false, matrix);
    gl.uniform3fv(uniform.eye, eye);
    gl.uniform3fv(uniform.right, right);
    const solid = (part) => opacityOf(part) >= 1;
    shown.filter((part) => solid(part) && part.group !== "skirt").forEach((part) => drawPart(part, stages, 1, behind, floor));
    gl.disable(gl.CULL_FACE);
    // An opaque skirt hides what bulges a little out of it, such as a slack tape, which lies under it in truth.
    const nearer = matrix.slice();
    nearer[14] += depth * OVER_TAPES;
    gl.uniformMatrix4fv(uniform.toScreen, false, nearer);
    shown.filter((part) => solid(part) && part.group === "skirt").forEach((part) => drawPart(part, stages, 1, behind, floor));
    gl.uniformMatrix4fv(uniform.toScreen, false, matrix);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    gl.enable(gl.CULL_FACE);
    for (const side of [gl.FRONT, gl.BACK]) { // far sides first
      gl.cullFace(side);
      shown.filter((part) => !solid(part)).forEach((part) => drawPart(part, stages, opacityOf(part), behind, floor));
    }
    gl.depthMask(true);
    gl.disable(gl.CULL_FACE);
  };
  return {draw, take, drop};
};
const opacityOf = (part) => (opaqueSkirt && opaqueSkirt.checked ? 1 : part.colour[3]);
