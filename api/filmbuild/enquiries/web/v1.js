/**
 * <filmbuild-quote-form key="filmbuild-public_…" lang="es"></filmbuild-quote-form>
 *
 * A quote form for any web page. It stores nothing in the browser and asks no host but the service
 * that it was loaded from. It needs a page served by https, for the browser's cryptography.
 *
 * Custom properties: --quote-accent, --quote-on-accent, --quote-ink, --quote-quiet, --quote-paper,
 * --quote-line, --quote-wrong, --quote-font, --quote-radius.
 * Parts: title, step, legend, field, button, send, price, errors, done.
 * Event: filmbuild-enquiry, with the enquiry's id in its detail.
 */
const SERVICE = new URL("..", import.meta.url);
const WAIT = 450, OLD = 600_000, FOOT = 0.3048, COLUMNS = 24, ROWS = 16;
const SVG = "http://www.w3.org/2000/svg";

const TEXTS = {
  en: {
    rooms: "Your rooms", room: "Room", addRoom: "Add a room", removeRoom: "Remove this room",
    how: "How do you want to give its size?", bySize: "Length and width", byOutline: "Draw its outline",
    length: "Length", width: "Width", feet: "ft", inches: "in", metres: "m",
    square: "One square is", outline: "Outline of the room on a grid",
    keys: "Press on the grid to set each corner, and on the first one again to close. By keyboard: arrows move, Enter sets a corner, Backspace takes the last one back.",
    at: "{x} right, {y} down", set: "Corner {n} set at {at}.", wall: "Wall of {length}.",
    closed: "The outline is closed, with {n} corners.", opened: "Last corner taken back; {n} left.",
    crossing: "That wall would cross another one.", restart: "Start again", back: "Take back a corner",
    close: "Close the outline", corners: "Corners", notClosed: "Not closed yet.",
    finish: "The finish", extras: "Steps and cracks", steps: "How many steps are to be coated?",
    stepWidth: "How wide are the steps?", cracks: "How long are all cracks together?",
    crackWidth: "How wide are they?", hairline: "Thin as a hair", coin: "A coin's edge fits in",
    finger: "A finger tip fits in", when: "The date", date: "When should the work begin, if it matters?",
    price: "Price range", ask: "Give a room and choose a finish, and the price range appears here.",
    working: "Working out the price…", between: "{low} to {high}", taxed: "Tax is included.",
    untaxed: "Tax is not included.", days: "About {n} working days", day: "About 1 working day",
    includes: "This includes", failed: "The price cannot be reached just now. What you have typed is still here, and you can send it all the same.",
    offline: "You seem to be offline. What you have typed is still here.", retry: "Try again",
    look: "This floor needs a closer look. Send it to us, and we will tell you the price.",
    contact: "Where to answer", name: "Name", email: "E-mail address", telephone: "Telephone",
    either: "An e-mail address or a telephone number is needed.", place: "Postcode or address of the floor",
    message: "Anything else we should know?", optional: "optional", privacy: "How we treat your details",
    send: "Send the enquiry", sending: "Sending…", unsent: "The enquiry was not sent. What you have typed is still here.",
    wrong: "Please look at these once more", done: "Thank you. Your enquiry has arrived.",
    reference: "Its reference is", told: "The price range of it is {range}.",
    changed: "Prices have changed while you were here: it was {range} before.",
    later: "We will look at the floor and tell you the price.", needed: "Please fill this in.",
    number: "Please give a number.", loading: "The form is being loaded…",
    down: "The quote form cannot be reached just now.", insecure: "This page must be served by https to send enquiries.",
    consentMissing: "Please tick this, or we may not keep your enquiry.", show: "Show"
  },
  es: {
    rooms: "Sus espacios", room: "Espacio", addRoom: "Añadir un espacio", removeRoom: "Quitar este espacio",
    how: "¿Cómo quiere dar su tamaño?", bySize: "Largo y ancho", byOutline: "Dibujar su contorno",
    length: "Largo", width: "Ancho", feet: "ft", inches: "in", metres: "m",
    square: "Un cuadro mide", outline: "Contorno del espacio en una cuadrícula",
    keys: "Pulse en la cuadrícula para poner cada esquina, y otra vez en la primera para cerrar. Con el teclado: las flechas mueven, Intro pone una esquina y Retroceso quita la última.",
    at: "{x} a la derecha, {y} abajo", set: "Esquina {n} puesta en {at}.", wall: "Pared de {length}.",
    closed: "El contorno está cerrado, con {n} esquinas.", opened: "Última esquina quitada; quedan {n}.",
    crossing: "Esa pared cruzaría otra.", restart: "Empezar de nuevo", back: "Quitar una esquina",
    close: "Cerrar el contorno", corners: "Esquinas", notClosed: "Aún sin cerrar.",
    finish: "El acabado", extras: "Escalones y grietas", steps: "¿Cuántos escalones se van a recubrir?",
    stepWidth: "¿Qué ancho tienen los escalones?", cracks: "¿Cuánto miden todas las grietas juntas?",
    crackWidth: "¿Qué tan anchas son?", hairline: "Finas como un cabello", coin: "Cabe el canto de una moneda",
    finger: "Cabe la punta de un dedo", when: "La fecha", date: "¿Cuándo debería empezar el trabajo, si importa?",
    price: "Rango de precio", ask: "Dé un espacio y elija un acabado, y aquí aparecerá el rango de precio.",
    working: "Calculando el precio…", between: "{low} a {high}", taxed: "Impuestos incluidos.",
    untaxed: "Impuestos no incluidos.", days: "Unos {n} días de trabajo", day: "Cerca de 1 día de trabajo",
    includes: "Esto incluye", failed: "Ahora mismo no se puede obtener el precio. Lo que ha escrito sigue aquí, y puede enviarlo de todos modos.",
    offline: "Parece que no tiene conexión. Lo que ha escrito sigue aquí.", retry: "Intentar de nuevo",
    look: "Este piso necesita que lo veamos mejor. Envíenoslo y le diremos el precio.",
    contact: "A dónde responder", name: "Nombre", email: "Correo electrónico", telephone: "Teléfono",
    either: "Hace falta un correo electrónico o un teléfono.", place: "Código postal o dirección del piso",
    message: "¿Algo más que debamos saber?", optional: "opcional", privacy: "Cómo tratamos sus datos",
    send: "Enviar la consulta", sending: "Enviando…", unsent: "La consulta no se envió. Lo que ha escrito sigue aquí.",
    wrong: "Por favor, revise esto", done: "Gracias. Su consulta ha llegado.",
    reference: "Su referencia es", told: "Su rango de precio es {range}.",
    changed: "Los precios han cambiado mientras estaba aquí: antes era {range}.",
    later: "Veremos el piso y le diremos el precio.", needed: "Por favor, complete esto.",
    number: "Por favor, dé un número.", loading: "El formulario se está cargando…",
    down: "Ahora mismo no se puede obtener el formulario.", insecure: "Para enviar consultas, esta página debe servirse por https.",
    consentMissing: "Marque esto, o no podremos guardar su consulta.", show: "Ver"
  }
};

const STYLE = `
:host { display: block; container-type: inline-size; color-scheme: inherit;
  --accent: var(--quote-accent, #0b5d57); --on-accent: var(--quote-on-accent, #fff);
  --ink: var(--quote-ink, #1c2427); --quiet: var(--quote-quiet, #4d585d);
  --paper: var(--quote-paper, #fff); --line: var(--quote-line, #7b868b);
  --wrong: var(--quote-wrong, #a3190f); --radius: var(--quote-radius, 3px);
  font: 1rem/1.45 var(--quote-font, system-ui, sans-serif); color: var(--ink); background: var(--paper); }
:host([hidden]), [hidden] { display: none !important; }
* { box-sizing: border-box; }
form { display: grid; gap: 1.75rem; padding: 1rem; counter-reset: step; }
h2, h3, p, ul, ol { margin: 0; }
h2 { font-size: 1.5rem; line-height: 1.2; padding: 1rem 1rem 0; }
fieldset { border: 0; margin: 0; padding: 0; min-width: 0; }
.step { border-top: 2px solid var(--ink); padding-top: .75rem; display: grid; gap: 1rem; }
.step > h3 { counter-increment: step; font-size: 1.125rem; }
.step > h3::before { content: counter(step) "  "; color: var(--accent); font-variant-numeric: tabular-nums; }
.rooms { display: grid; gap: 1.25rem; }
.room { display: grid; gap: .75rem; padding-inline-start: .75rem; border-inline-start: 2px solid var(--line); }
legend { padding: 0; font-weight: 600; }
.room > legend { float: left; width: 100%; }
.row { display: flex; flex-wrap: wrap; gap: .75rem 1.25rem; align-items: end; }
.field { display: grid; gap: .25rem; flex: 1 1 11rem; min-width: 0; }
.hint { color: var(--quiet); font-size: .9375rem; font-weight: 400; }
.pair { display: flex; gap: .5rem; align-items: center; }
input, select, textarea, button { font: inherit; color: inherit; }
input:not([type=radio], [type=checkbox]), select, textarea { width: 100%; min-width: 0; min-height: 2.75rem;
  padding: .5rem .625rem; background: transparent; border: 1px solid var(--line); border-radius: var(--radius); }
select option { color: #1c2427; background: #fff; }
[aria-invalid=true] { border-color: var(--wrong) !important; outline: 1px solid var(--wrong); }
input[type=radio], input[type=checkbox] { width: 1.25rem; height: 1.25rem; margin: 0; flex: none; accent-color: var(--accent); }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.choice { display: flex; gap: .625rem; align-items: center; min-height: 2.75rem; }
.choice.top { align-items: start; padding-top: .5rem; }
.swatch { width: 2.75rem; height: 2.75rem; border: 1px solid var(--line); border-radius: var(--radius); flex: none; }
button { min-height: 2.75rem; padding: .5rem 1rem; border: 1px solid var(--ink); background: transparent; border-radius: var(--radius); cursor: pointer; }
.send { border-color: var(--accent); background: var(--accent); color: var(--on-accent); font-weight: 600; }
button[aria-disabled=true] { opacity: .65; cursor: default; }
.problem { color: var(--wrong); }
.board { display: block; width: 100%; max-width: 36rem; touch-action: manipulation; border: 1px solid var(--line); cursor: crosshair; }
.board path.grid { stroke: var(--line); stroke-width: .02; opacity: .55; }
.board .shape { fill: none; stroke: var(--ink); stroke-width: .12; }
.board .shape.closed { fill: var(--accent); fill-opacity: .25; }
.board circle { fill: var(--ink); }
.board .cursor { fill: none; stroke: var(--accent); stroke-width: .12; }
.price { border: 2px solid var(--accent); border-radius: var(--radius); padding: 1rem; display: grid; gap: .5rem; background: var(--paper); }
.figure { font-size: 1.625rem; line-height: 1.2; font-weight: 650; font-variant-numeric: tabular-nums; }
.price ul { padding-inline-start: 1.25rem; }
.errors { border-inline-start: 4px solid var(--wrong); padding-inline-start: .75rem; }
.done { padding: 1rem; display: grid; gap: .75rem; justify-items: start; }
.done h2 { padding: 0; }
a { color: var(--accent); }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@container (min-width: 54rem) {
  form { grid-template-columns: minmax(0, 1fr) 19rem; column-gap: 2.5rem; align-items: start; }
  form > * { grid-column: 1; }
  form > .price { grid-column: 2; grid-row: 1 / span 9; position: sticky; top: 1rem; }
}
@media (prefers-reduced-motion: no-preference) { .figure { animation: come .25s; } @keyframes come { from { opacity: .2; } } }
@media (forced-colors: active) { .swatch { forced-color-adjust: none; } }`;

const sheet = new CSSStyleSheet();
sheet.replaceSync(STYLE);

const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);

function make(tag, given = {}, ...inside) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name.startsWith("on")) one.addEventListener(name.slice(2), value);
    else if (name in one && name !== "part") one[name] = value;
    else one.setAttribute(name, value);
  }
  one.append(...inside.filter(each => each !== null && each !== undefined));
  return one;
}

function draw(tag, given) {
  const one = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(given)) one.setAttribute(name, value);
  return one;
}

let serial = 0;
const unique = () => `q${++serial}`;

/** Corners on a grid, set by pointer or by keyboard, and told in words as they come. */
class Board {
  constructor(words, us, changed) {
    Object.assign(this, { words, us, changed, corners: [], closed: false, x: 0, y: 0 });
    const scales = us ? [1, 2, 5, 10] : [0.5, 1, 2, 5];
    this.unit = us ? "ft" : "m";
    this.scale = make("select", { id: unique(), onchange: () => this.tell("") },
      ...scales.map(one => make("option", { value: one }, `${one} ${this.unit}`)));
    this.scale.value = scales[us ? 1 : 0];
    this.live = make("p", { role: "status", className: "hint" });
    this.list = make("p", { className: "hint" });
    const keys = make("p", { className: "hint", id: unique() }, words.keys);
    this.board = draw("svg", { class: "board", viewBox: `-0.5 -0.5 ${COLUMNS + 1} ${ROWS + 1}`, tabindex: 0,
      role: "application", "aria-label": words.outline, "aria-describedby": keys.id });
    let grid = "";
    for (let x = 0; x <= COLUMNS; x++) grid += `M${x} 0V${ROWS}`;
    for (let y = 0; y <= ROWS; y++) grid += `M0 ${y}H${COLUMNS}`;
    this.shape = draw("path", { class: "shape" });
    this.dots = draw("g", {});
    this.cursor = draw("circle", { class: "cursor", r: .4 });
    this.board.append(draw("path", { class: "grid", d: grid }), this.shape, this.dots, this.cursor);
    this.board.addEventListener("click", event => this.pressed(event));
    this.board.addEventListener("keydown", event => this.typed(event));
    const action = (text, act) => make("button", { type: "button", part: "button", onclick: act }, text);
    this.element = make("div", { className: "field" },
      make("label", { className: "field", htmlFor: this.scale.id }, words.square, this.scale), keys, this.board,
      this.live, this.list,
      make("div", { className: "row" }, action(words.close, () => this.close()),
        action(words.back, () => this.back()), action(words.restart, () => this.restart())));
    this.show();
  }

  at(x, y) {
    const told = value => `${+(value * this.scale.value).toFixed(2)} ${this.unit}`;
    return fill(this.words.at, { x: told(x), y: told(y) });
  }

  pressed(event) {
    const place = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.board.getScreenCTM().inverse());
    const within = (value, most) => Math.min(Math.max(Math.round(value), 0), most);
    this.x = within(place.x, COLUMNS);
    this.y = within(place.y, ROWS);
    this.set();
  }

  typed(event) {
    const [x, y] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [0, 0];
    if (x || y) {
      this.x = Math.min(Math.max(this.x + x, 0), COLUMNS);
      this.y = Math.min(Math.max(this.y + y, 0), ROWS);
      this.tell(this.at(this.x, this.y));
    } else if (event.key === "Enter" || event.key === " ") this.set();
    else if (event.key === "Backspace") this.back();
    else return;
    event.preventDefault();
  }

  set() {
    if (this.closed) return this.tell(fill(this.words.closed, { n: this.corners.length }));
    const [first, last] = [this.corners[0], this.corners.at(-1)];
    if (first && first[0] === this.x && first[1] === this.y) return this.close();
    if (this.corners.length >= 40 || last && crosses(this.corners, [this.x, this.y])) return this.tell(this.words.crossing);
    this.corners.push([this.x, this.y]);
    const text = fill(this.words.set, { n: this.corners.length, at: this.at(this.x, this.y) });
    this.tell(last ? `${text} ${fill(this.words.wall, { length: this.length(last, [this.x, this.y]) })}` : text);
  }

  close() {
    if (this.corners.length < 3 || crosses(this.corners, this.corners[0])) return this.tell(this.words.crossing);
    this.closed = true;
    this.tell(fill(this.words.closed, { n: this.corners.length }));
  }

  back() {
    if (this.closed) this.closed = false;
    else this.corners.pop();
    this.tell(fill(this.words.opened, { n: this.corners.length }));
  }

  restart() {
    Object.assign(this, { corners: [], closed: false });
    this.tell(fill(this.words.opened, { n: 0 }));
  }

  length(from, to) {
    return `${+(Math.hypot(to[0] - from[0], to[1] - from[1]) * this.scale.value).toFixed(2)} ${this.unit}`;
  }

  tell(text) {
    this.live.textContent = text;
    this.show();
    this.changed();
  }

  show() {
    const path = this.corners.map(one => one.join(" ")).join("L");
    this.shape.setAttribute("d", path ? `M${path}${this.closed ? "Z" : ""}` : "");
    this.shape.setAttribute("class", this.closed ? "shape closed" : "shape");
    this.dots.replaceChildren(...this.corners.map(([cx, cy]) => draw("circle", { cx, cy, r: .22 })));
    this.cursor.setAttribute("cx", this.x);
    this.cursor.setAttribute("cy", this.y);
    const walls = this.corners.map((one, place) => this.corners[place + 1] ?? (this.closed ? this.corners[0] : null))
      .map((next, place) => next && this.length(this.corners[place], next)).filter(Boolean).join(", ");
    this.list.textContent = this.corners.length
      ? `${this.words.corners}: ${this.corners.length}. ${walls}${walls ? ". " : ""}${this.closed ? "" : this.words.notClosed}` : "";
  }

  get value() {
    return this.closed
      ? { kind: "outline", unit: this.unit, corners: this.corners.map(one => one.map(each => each * this.scale.value)) } : null;
  }
}

/** Whether a wall from the last corner to `to` would meet an earlier one, but at a shared corner. */
function crosses(corners, to) {
  const turn = (a, b, c) => Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  const on = (a, b, c) => turn(a, b, c) === 0 && Math.min(a[0], b[0]) <= c[0] && c[0] <= Math.max(a[0], b[0])
    && Math.min(a[1], b[1]) <= c[1] && c[1] <= Math.max(a[1], b[1]);
  const from = corners.at(-1), closing = to === corners[0];
  if (from[0] === to[0] && from[1] === to[1]) return true;
  for (let place = 0; place + 1 < corners.length; place++) {
    const [a, b] = [corners[place], corners[place + 1]];
    const before = place + 2 === corners.length, first = closing && place === 0;
    if (before || first) {
      if (before && on(a, from, to) && !first || before && on(from, to, a) || first && (on(to, from, b) || on(a, b, from))) return true;
    } else if (on(a, b, to) || on(a, b, from) || on(from, to, a) || on(from, to, b)
      || turn(a, b, from) !== turn(a, b, to) && turn(from, to, a) !== turn(from, to, b)) return true;
  }
  return false;
}

/** Altcha, version 2: the counter whose key begins as asked. The browser derives off the main thread. */
async function solve(challenge, ended) {
  const { parameters: { nonce, salt, cost, keyLength, keyPrefix } } = challenge;
  const bytes = text => Uint8Array.from(text.match(/../g), one => parseInt(one, 16));
  const password = new Uint8Array([...bytes(nonce), 0, 0, 0, 0]), view = new DataView(password.buffer);
  const how = { name: "PBKDF2", hash: "SHA-256", salt: bytes(salt), iterations: cost };
  for (let counter = 0; !ended(); counter++) {
    view.setUint32(nonce.length / 2, counter);
    const key = await crypto.subtle.importKey("raw", password, "PBKDF2", false, ["deriveBits"]);
    const found = new Uint8Array(await crypto.subtle.deriveBits(how, key, keyLength * 8));
    const derivedKey = Array.from(found, one => one.toString(16).padStart(2, "0")).join("");
    if (derivedKey.startsWith(keyPrefix)) return btoa(JSON.stringify({ challenge, solution: { counter, derivedKey } }));
  }
  throw new Error("given up");
}

class QuoteForm extends HTMLElement {
  static observedAttributes = ["key", "lang"];

  connectedCallback() { this.begin(); }

  disconnectedCallback() { this.end(); }

  attributeChangedCallback(_name, was, now) { if (was !== null && was !== now && this.isConnected) this.begin(); }

  end() {
    this.life?.abort();
    this.asking?.abort();
    clearTimeout(this.timer);
    clearTimeout(this.aging);
  }

  async begin() {
    this.end();
    const life = this.life = new AbortController();
    const root = this.shadowRoot ?? this.attachShadow({ mode: "open" });
    root.adoptedStyleSheets = [sheet];
    const wished = (this.getAttribute("lang") || document.documentElement.lang || navigator.language).slice(0, 2).toLowerCase();
    this.language = wished in TEXTS ? wished : "en";
    this.words = TEXTS[this.language];
    root.replaceChildren(make("p", { role: "status", className: "done" }, this.words.loading));
    try {
      this.form = await this.call(`v1/quote-form?language=${this.language}`, { signal: life.signal });
    } catch (error) {
      if (life.signal.aborted) return;
      this.explain(error);
      root.replaceChildren(make("div", { className: "done" }, make("p", { role: "alert" }, this.words.down),
        make("button", { type: "button", part: "button", onclick: () => this.begin() }, this.words.retry)));
      return;
    }
    this.language = this.form.language;
    this.words = TEXTS[this.language];
    this.us = this.form.units === "us";
    Object.assign(this, { rooms: [], shown: null, sent: null, proof: null });
    this.build();
  }

  /** For whoever builds the page; visitors are told no more than that it does not work. */
  explain({ problem }) {
    const help = new URL("docs/start-quote-form#when-the-form-stays-empty", SERVICE);
    const unread = `${SERVICE} gave no answer that this page may read: it is down, or the key is not a whole publishable key, or ${location.origin} is not among the origins of the key.`;
    console.warn(`filmbuild-quote-form: ${problem?.detail ?? unread} See ${help}`);
  }

  async call(path, options = {}) {
    const headers = { Authorization: `Bearer ${this.getAttribute("key") ?? ""}`, "Accept-Language": this.language, ...options.headers };
    if (options.body) headers["Content-Type"] = "application/json";
    const answer = await fetch(new URL(path, SERVICE), { ...options, headers, credentials: "omit", cache: "no-store" });
    const told = await answer.json();
    if (!answer.ok) throw Object.assign(new Error(told.detail), { problem: told });
    return told;
  }

  build() {
    const { words, form } = this;
    const root = this.shadowRoot;
    this.fields = {};
    this.roomList = make("div", { className: "rooms" });
    this.priceBox = make("section", { className: "price", part: "price", role: "status", "aria-label": words.price });
    this.errorBox = make("div", { className: "errors", part: "errors", tabIndex: -1, hidden: true });
    this.sendButton = make("button", { type: "submit", className: "send", part: "button send" }, words.send);
    const step = (title, ...inside) => make("section", { className: "step", part: "step" },
      make("h3", { part: "legend" }, title), ...inside);
    this.element = make("form", { noValidate: true, onsubmit: event => { event.preventDefault(); this.send(); } },
      step(words.rooms, this.roomList, make("div", {}, this.adding = make("button", { type: "button", part: "button",
        onclick: () => this.addRoom(true) }, words.addRoom))),
      step(words.finish, this.choices("finish", words.finish, form.finishes.map(one => [one.id, one.name, one.description, one.swatch]))),
      step(words.extras,
        make("div", { className: "row" }, this.field("steps", words.steps, { inputMode: "numeric" }, true), this.measure("steps/width", words.stepWidth)),
        make("div", { className: "row" }, this.measure("cracks/length", words.cracks, true)),
        this.choices("cracks/width", words.crackWidth, ["hairline", "coin", "finger"].map(one => [one, words[one]]), "hairline")),
      step(words.when, make("div", { className: "row" }, this.dateField())),
      this.priceBox,
      step(words.contact,
        make("div", { className: "row" }, this.field("name", words.name, { autocomplete: "name", required: true })),
        make("div", { className: "row" }, this.field("email", words.email, { type: "email", autocomplete: "email" }),
          this.field("telephone", words.telephone, { type: "tel", autocomplete: "tel" })),
        make("p", { className: "hint" }, words.either),
        make("div", { className: "row" }, this.field("place", words.place, { autocomplete: "street-address" }, true)),
        make("div", { className: "row" }, this.field("message", words.message, { tag: "textarea", rows: 4 }, true)),
        this.consent(), this.errorBox, make("div", {}, this.sendButton)));
    this.element.addEventListener("input", event => {
      this.mended(event.target);
      this.changed();
    });
    this.element.addEventListener("focusin", event => { if (event.target === this.fields.name?.input) this.prove(); });
    this.addRoom(false);
    root.replaceChildren(make("div", { lang: this.language }, make("h2", { part: "title" }, form.title), this.element));
    this.showPrice("ask");
  }

  field(name, label, { tag = "input", ...given } = {}, optional = false) {
    const input = make(tag, { id: unique(), maxLength: tag === "textarea" ? 4000 : 200, ...given });
    const problem = make("span", { className: "problem", id: unique(), hidden: true });
    this.fields[name] = { input, problem, label };
    return make("div", { className: "field", part: "field" }, make("label", { htmlFor: input.id }, label,
      optional ? make("span", { className: "hint" }, ` (${this.words.optional})`) : null), problem, input);
  }

  /** A length: feet and inches, or metres. */
  measure(name, label, optional = false) {
    const { words, us } = this;
    const problem = make("span", { className: "problem", id: unique(), hidden: true });
    const part = unit => make("input", { inputMode: "decimal", maxLength: 9, ariaLabel: `${label} (${unit})` });
    const large = part(us ? words.feet : words.metres), small = us ? part(words.inches) : null;
    this.fields[name] = { input: large, small, problem, label };
    return make("div", { className: "field", part: "field", role: "group", "aria-label": label },
      make("span", {}, label, optional ? make("span", { className: "hint" }, ` (${words.optional})`) : null), problem,
      make("span", { className: "pair" }, large, us ? words.feet : words.metres, small, us ? words.inches : null));
  }

  choices(name, label, options, chosen = null) {
    const group = unique(), problem = make("span", { className: "problem", id: unique(), hidden: true });
    const radios = options.map(([value]) => make("input", { type: "radio", name: group, value, checked: value === chosen }));
    const set = make("fieldset", { part: "field", role: "radiogroup" });
    this.fields[name] = { input: radios[0], marked: set, radios, problem, label };
    set.append( make("legend", { className: name === "finish" ? "unseen" : "" }, label),
      make("div", { className: "row" }, ...options.map(([, text, more, swatch], place) =>
        make("label", { className: "choice" }, radios[place], swatch ? this.swatch(swatch) : null,
          make("span", {}, text, more ? make("br") : null, more ? make("span", { className: "hint" }, more) : null)))), problem);
    return set;
  }

  swatch(colour) {
    const one = make("span", { className: "swatch", ariaHidden: "true" });
    one.style.setProperty("background-color", colour);
    return one;
  }

  dateField() {
    const day = offset => { const one = new Date(Date.now() + offset * 864e5); return new Date(one - one.getTimezoneOffset() * 6e4).toISOString().slice(0, 10); };
    return this.field("wished_date", this.words.date, { type: "date", min: day(0), max: day(this.form.limits.days_ahead) }, true);
  }

  consent() {
    const { consent } = this.form;
    const input = make("input", { type: "checkbox", id: unique(), required: true });
    const problem = make("span", { className: "problem", id: unique(), hidden: true });
    this.fields.consent = { input, problem };
    return make("div", { className: "field", part: "field" }, problem, make("div", { className: "choice top" }, input, make("span", {},
      make("label", { htmlFor: input.id }, consent.text), " ",
      make("a", { href: consent.privacy, target: "_blank", rel: "noopener noreferrer" }, this.words.privacy))));
  }

  addRoom(focus) {
    const { words } = this, room = {}, group = unique(), own = this.fields;
    this.fields = {};
    const size = make("div", { className: "row" }, this.measure("length", words.length), this.measure("width", words.width));
    room.fields = this.fields;
    this.fields = own;
    room.board = new Board(words, this.us, () => this.changed());
    room.board.element.hidden = true;
    const way = (value, text, checked) => make("label", { className: "choice" }, make("input", { type: "radio", name: group, value, checked,
      onchange: () => { room.drawn = value === "outline"; size.hidden = room.drawn; room.board.element.hidden = !room.drawn; } }), text);
    const remove = make("button", { type: "button", part: "button", onclick: () => this.removeRoom(room) }, words.removeRoom);
    room.legend = make("legend", {});
    room.remove = remove;
    room.problem = make("span", { className: "problem", id: unique(), hidden: true });
    room.element = make("fieldset", { className: "room" }, room.legend,
      make("div", { role: "radiogroup", "aria-label": words.how, className: "row" }, way("size", words.bySize, true), way("outline", words.byOutline, false)),
      size, room.board.element, room.problem, make("div", {}, remove));
    this.rooms.push(room);
    this.roomList.append(room.element);
    this.numberRooms();
    if (focus) room.fields.length.input.focus();
    this.changed();
  }

  removeRoom(room) {
    this.rooms = this.rooms.filter(one => one !== room);
    room.element.remove();
    this.numberRooms();
    this.adding.focus();
    this.changed();
  }

  numberRooms() {
    this.rooms.forEach((one, place) => {
      one.legend.textContent = `${this.words.room} ${place + 1}`;
      one.remove.hidden = this.rooms.length < 2;
      one.remove.ariaLabel = `${this.words.removeRoom}: ${place + 1}`;
    });
    this.adding.hidden = this.rooms.length >= this.form.limits.rooms;
  }

  /** The length in a field as the service reads it; null where there is none, NaN where it is no number. */
  length({ input, small }) {
    const read = one => one?.value.trim() ? Number(one.value.trim().replace(",", ".")) : null;
    const [large, rest] = [read(input), read(small)];
    if (large === null && rest === null) return null;
    const total = (large ?? 0) + (rest ?? 0) / 12;
    return Number.isFinite(total) && total >= 0 && !(rest < 0) ? { value: total, unit: this.us ? "ft" : "m" } : NaN;
  }

  chosen(name) { return this.fields[name].radios.find(one => one.checked)?.value ?? null; }

  /** The question as far as it is known, and what is missing of it by the pointers of the service. */
  question() {
    const faults = {}, { words, fields } = this;
    const need = (value, pointer) => {
      if (value === null || Number.isNaN(value)) faults[pointer] = value === null ? words.needed : words.number;
      return value;
    };
    const rooms = this.rooms.map((room, place) => room.drawn ? need(room.board.value, `/rooms/${place}/corners`) : {
      kind: "size", length: need(this.length(room.fields.length), `/rooms/${place}/length`),
      width: need(this.length(room.fields.width), `/rooms/${place}/width`)
    });
    const asked = { language: this.language, rooms, finish: need(this.chosen("finish"), "/finish") };
    const count = fields.steps.input.value.trim();
    if (count && count !== "0") {
      asked.steps = { count: need(/^\d+$/.test(count) ? Number(count) : NaN, "/steps/count"), width: need(this.length(fields["steps/width"]), "/steps/width") };
    }
    const cracks = this.length(fields["cracks/length"]);
    if (cracks !== null && cracks.value !== 0) asked.cracks = { length: need(cracks, "/cracks/length"), width: this.chosen("cracks/width") };
    if (fields.wished_date.input.value) asked.wished_date = fields.wished_date.input.value;
    else if (fields.wished_date.input.validity.badInput) faults["/wished_date"] = words.needed;
    return { asked, faults };
  }

  /** No price is shown for what has been changed since. */
  changed() {
    if (!this.element || this.busy) return;
    clearTimeout(this.timer);
    clearTimeout(this.aging);
    this.asking?.abort();
    const { asked, faults } = this.question(), text = JSON.stringify(asked);
    if (Object.keys(faults).length) {
      this.priced = null;
      return this.showPrice("ask");
    }
    if (text === this.priced && this.shown) return this.age();
    this.priced = null;
    this.showPrice("working");
    this.timer = setTimeout(() => this.ask(text), WAIT);
  }

  async ask(text) {
    const asking = this.asking = new AbortController();
    this.showPrice("working");
    try {
      const found = await this.call("v1/quote-form/prices", { method: "POST", body: text, signal: asking.signal });
      if (asking.signal.aborted) return;
      this.priced = text;
      this.told = range(found.price, this.language, this.words);
      this.showErrors({});
      this.showPrice("found", found);
      this.age();
    } catch (error) {
      if (asking.signal.aborted) return;
      const faults = byPointer(error.problem);
      if (faults && "" in faults) this.showPrice("look");
      else if (faults) {
        this.showPrice("ask");
        this.showErrors(faults, false);
      } else this.showPrice(navigator.onLine ? "failed" : "offline");
    }
  }

  /** A price that has stood for long is asked for again before anyone relies on it. */
  age() {
    clearTimeout(this.aging);
    this.aging = setTimeout(() => { this.shown = null; this.changed(); }, OLD);
  }

  showPrice(state, found = null) {
    const { words, priceBox } = this;
    if (state === this.state && !found) return;
    this.state = state;
    this.shown = found;
    priceBox.dataset.state = state;
    const inside = [make("h3", {}, words.price)];
    if (found) {
      inside.push(make("p", { className: "figure" }, range(found.price, this.language, words)),
        make("p", {}, found.price.tax_included ? words.taxed : words.untaxed),
        make("p", {}, found.working_days === 1 ? words.day : fill(words.days, { n: found.working_days })));
      if (found.includes.length) {
        inside.push(make("p", {}, words.includes), make("ul", {}, ...found.includes.map(one => make("li", {}, one))));
      }
      if (found.minimum_note) inside.push(make("p", { className: "hint" }, found.minimum_note));
    } else inside.push(make("p", {}, words[state]));
    if (state === "failed" || state === "offline") {
      inside.push(make("div", {}, make("button", { type: "button", part: "button", onclick: () => this.changed() }, words.retry)));
      this.state = null;
    }
    priceBox.replaceChildren(...inside);
  }

  fieldOf(pointer) {
    const parts = pointer.replace(/^\/question/, "").split("/").slice(1);
    if (parts[0] === "rooms") {
      const room = this.rooms[Number(parts[1])];
      return room && (room.fields[parts[2]] && !room.drawn ? room.fields[parts[2]]
        : { input: room.board.element.hidden ? room.fields.length.input : room.board.board, problem: room.problem, label: room.legend.textContent });
    }
    const name = parts.join("/");
    return this.fields[name === "steps/count" ? "steps" : name] ?? this.fields[parts[0]];
  }

  everyField() { return [...Object.values(this.fields), ...this.rooms.flatMap(one => [...Object.values(one.fields), { input: one.board.board, problem: one.problem }])]; }

  showErrors(faults, summary = true, lead = this.words.wrong) {
    this.everyField().forEach(unmark);
    const list = Object.entries(faults).map(([pointer, text]) => {
      const found = this.fieldOf(pointer);
      if (!found) return make("li", {}, text);
      found.problem.textContent = text;
      found.problem.hidden = false;
      const marked = found.marked ?? found.input;
      marked.setAttribute("aria-invalid", "true");
      if (!marked.hasAttribute("aria-describedby")) marked.setAttribute("aria-describedby", found.problem.id);
      return make("li", {}, make("a", { href: "#", onclick: event => { event.preventDefault(); found.input.focus(); } }, found.label ? `${found.label}: ${text}` : text));
    });
    this.errorBox.hidden = !summary || !list.length && lead === this.words.wrong;
    this.errorBox.replaceChildren(make("p", {}, lead), make("ul", {}, ...list));
    if (!this.errorBox.hidden) this.errorBox.focus();
  }

  /** What is typed into is looked at anew when it is sent, and not called wrong until then. */
  mended(target) {
    const own = ({ input, small, radios }) => [input, small, ...radios ?? []].includes(target);
    const { email, telephone } = this.fields;
    const wrong = this.everyField().filter(one => !one.problem.hidden && (own(one) || one === email && own(telephone)));
    wrong.forEach(unmark);
    if (wrong.length && this.everyField().every(one => one.problem.hidden)) this.errorBox.hidden = true;
  }

  /** Solved while the rest is typed; a solution that has waited long is made anew. */
  prove() {
    if (this.form.proof_attempts < 2) return Promise.resolve("");
    if (!this.proof || Date.now() - this.proof.since > OLD) {
      const { signal } = this.life;
      const solution = this.call("v1/quote-form/challenge", { signal }).then(one => solve(one, () => signal.aborted));
      const proof = this.proof = { since: Date.now(), solution };
      solution.catch(() => { if (this.proof === proof) this.proof = null; });
    }
    return this.proof.solution;
  }

  async send() {
    if (this.busy) return;
    const { words, fields } = this, { asked, faults } = this.question();
    const typed = name => fields[name].input.value.trim();
    if (!typed("name")) faults["/name"] = words.needed;
    if (!typed("email") && !typed("telephone")) faults["/email"] = words.either;
    if (!fields.consent.input.checked) faults["/consent"] = words.consentMissing;
    this.showErrors(faults);
    if (Object.keys(faults).length) return;
    if (!globalThis.crypto?.subtle) return this.showErrors({}, true, words.insecure);
    const body = { question: asked, consent: { accepted: true, version: this.form.consent.version } };
    for (const name of ["name", "email", "telephone", "place", "message"]) body[name] = typed(name);
    const text = JSON.stringify(body), seen = this.shown && this.told;
    this.setBusy(true);
    try {
      // the same again, where an answer was lost: it is one enquiry
      if (this.sent?.text !== text) {
        this.sent = { text, key: crypto.randomUUID(), whole: JSON.stringify({ ...body, proof: await this.prove() }) };
        this.proof = null;
      }
      const receipt = await this.call("v1/enquiries", { method: "POST", body: this.sent.whole, headers: { "Idempotency-Key": this.sent.key }, signal: this.life.signal });
      this.finish(receipt, seen);
    } catch (error) {
      if (this.life.signal.aborted) return;
      this.setBusy(false);
      const found = byPointer(error.problem);
      if (error.problem) this.sent = null;
      this.showErrors(found ?? {}, true, found ? words.wrong : navigator.onLine ? words.unsent : words.offline);
    }
  }

  setBusy(busy) {
    this.busy = busy;
    this.sendButton.setAttribute("aria-disabled", busy);
    this.sendButton.textContent = busy ? this.words.sending : this.words.send;
  }

  finish(receipt, seen) {
    const { words } = this, now = receipt.price && range(receipt.price, this.language, words);
    clearTimeout(this.timer);
    clearTimeout(this.aging);
    const head = make("h2", { tabIndex: -1, part: "title" }, words.done);
    this.shadowRoot.replaceChildren(make("div", { className: "done", part: "done", lang: this.language }, head,
      make("p", {}, `${words.reference} `, make("strong", {}, receipt.id.slice(-8).toUpperCase())),
      make("p", {}, now ? fill(words.told, { range: now }) : words.later),
      now && seen && seen !== now ? make("p", {}, fill(words.changed, { range: seen })) : null));
    this.element = null;
    this.busy = false;
    head.focus();
    this.dispatchEvent(new CustomEvent("filmbuild-enquiry", { bubbles: true, composed: true, detail: { id: receipt.id } }));
  }
}

function unmark({ input, marked = input, problem }) {
  problem.hidden = true;
  marked.removeAttribute("aria-invalid");
  if (marked.getAttribute("aria-describedby") === problem.id) marked.removeAttribute("aria-describedby");
}

function range({ lowest, highest }, language, words) {
  const told = ({ amount, currency }) => new Intl.NumberFormat(currency === "USD" ? `${language}-US` : language, { style: "currency", currency, maximumFractionDigits: Number(amount) % 1 ? undefined : 0 }).format(amount);
  return fill(words.between, { low: told(lowest), high: told(highest) });
}

/** What is wrong with the input, by pointer; null where it is something else that failed. */
function byPointer(problem) {
  return problem?.status === 422 && problem.errors.length
    ? Object.fromEntries(problem.errors.map(one => [one.pointer, one.detail])) : null;
}

if (!customElements.get("filmbuild-quote-form")) customElements.define("filmbuild-quote-form", QuoteForm);
