// To the program and back: one move in flight and then the newest; what is asked for is answered by its number.
const wire = {socket: null, seq: 0, flying: null, next: null, asked: new Map(), asks: 0, hear: {}};
const AGAIN = 1500; // ms before a lost connection is sought anew

const connect = () => {
  const socket = new WebSocket(`${location.origin.replace(/^http/, "ws")}${location.pathname.replace(/\/?$/, "/")}live`);
  socket.binaryType = "arraybuffer";
  socket.addEventListener("message", ({data}) => (typeof data === "string" ? hearWords(JSON.parse(data)) : hearShape(data)));
  socket.addEventListener("close", () => {
    Object.assign(wire, {flying: null, next: null});
    for (const answer of wire.asked.values()) answer({kind: "failed", text: "The connection to cage3d was lost."});
    wire.asked.clear();
    wire.hear.lost();
    setTimeout(connect, AGAIN);
  });
  wire.socket = socket;
};
const isOpen = () => wire.socket && wire.socket.readyState === WebSocket.OPEN;

// values: all that differ from the file; rest: the hand rests, so the figures are wanted too; quiet: what was refused
// before stays said.
const sendMove = (values, rest, quiet = false) => {
  const move = {values, rest, quiet, since: performance.now()};
  if (wire.flying && !wire.flying.rest) {
    wire.next = move;
    return;
  }
  fly(move);
};
const fly = (move) => {
  if (!isOpen()) return;
  wire.seq += 1;
  wire.flying = {...move, seq: wire.seq};
  wire.next = null;
  wire.socket.send(JSON.stringify({seq: wire.seq, values: move.values, rest: move.rest}));
  wire.hear.flying();
};
// Returns the move that this answers, null for one that a newer one has overtaken.
const landed = (seq) => {
  const {flying, next} = wire;
  if (!flying || seq < flying.seq) return null;
  wire.flying = null;
  if (next) fly(next);
  return flying;
};
// Asks for something else than a move; the answer, done or failed, as a promise. under: hears how far it has come.
const ask = (what, more = {}, under = () => {}) => new Promise((answer) => {
  if (!isOpen()) return answer({kind: "failed", text: "The connection to cage3d was lost."});
  wire.asks += 1;
  wire.asked.set(wire.asks, Object.assign(answer, {under}));
  wire.socket.send(JSON.stringify({do: what, id: wire.asks, ...more}));
});

const MOVES = ["parts", "refused", "no rest", "failed"]; // with a seq these end a flight, as a shape does
const hearWords = (message) => {
  const asked = wire.asked.get(message.id);
  if (asked && (message.kind === "done" || message.kind === "failed")) {
    wire.asked.delete(message.id);
    return asked(message);
  }
  if (asked && message.kind === "told") return asked.under(message.text);
  if (message.kind === "figures" && message.seq < wire.seq) return; // of a cage that was left already
  const move = message.seq !== undefined && MOVES.includes(message.kind) ? landed(message.seq) : null;
  const heard = wire.hear[message.kind];
  if (heard) heard(message, move);
};
// A binary frame: the head's length, its words, then places and facings of every part that moved.
const hearShape = (bytes) => {
  const long = new DataView(bytes).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, 4, long)));
  const shapes = head.parts.map((part) => (part.positions ? {
    low: part.low,
    size: part.size,
    positions: new Uint16Array(bytes, 4 + long + part.positions[0], part.positions[1]),
    normals: new Int8Array(bytes, 4 + long + part.normals[0], part.normals[1]),
  } : null));
  wire.hear.shape(head, shapes, landed(head.seq));
};
