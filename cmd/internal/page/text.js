
const svgSpace = document.querySelector("svg").namespaceURI;

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes || {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value != null) element.setAttribute(name, value);
  }
  element.append(...children.flat(4).filter((child) => child != null && child !== false && child !== ""));
  return element;
}

// el makes an element; children are elements or plain text, never markup.
const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);
const svg = (tag, attributes, ...children) => fill(document.createElementNS(svgSpace, tag), attributes, children);
const replace = (target, ...children) => { target.replaceChildren(); fill(target, {}, children); };
const byId = (id) => document.getElementById(id);

// exponent is that of a number in scientific notation, 0 for 0.
const exponent = (x) => (x === 0 || !Number.isFinite(x) ? 0 : Math.floor(Math.log10(Math.abs(x)) + 1e-12));

// decimals is the number of decimals that an interval supports, as in the command's tables: the last
// digit is worth at most a half of the interval's half-width; under 0 it stands for tens and so on.
function decimals(value, low, high) {
  const most = 3 - exponent(value), half = (high - low) / 2;
  if (!(half > 0)) return Math.min(most, 3);
  return Math.max(Math.min(-exponent(half / 2), most, 3), Math.min(-exponent(value), 0));
}

function fixed(x, digits) {
  if (Number.isNaN(x)) return "–";
  if (digits < 0) {
    const unit = 10 ** -digits;
    x = Math.round(x / unit) * unit;
    digits = 0;
  }
  const text = x.toFixed(digits);
  return /^-[0.]*$/.test(text) ? text.slice(1) : text.replace("-", "−");
}

const plain = (figure) => (figure ? fixed(figure.value, decimals(figure.value, figure.low, figure.high)) : "–");

function interval(figure) {
  if (!figure || !(figure.high > figure.low)) return "";
  const digits = decimals(figure.value, figure.low, figure.high);
  return fixed(figure.low, digits) + " to " + fixed(figure.high, digits);
}

const withUnit = (text, unit) => (unit ? text + "\u00a0" + unit : text);
const grouped = (n) => String(n).replace(/\B(?=(\d{3})+$)/g, ",");
const round = (x, digits) => Number(x.toFixed(digits));

// limitText is a row's limitable figure as tables show it.
function limitText(row, bound) {
  const unit = page.bounds[bound].perUnit;
  return fixed(limited(row, bound), unit > 10 ? 2 : 1);
}

const shapes = [
  (r) => `M${-r} 0a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`,
  (r) => `M${-0.89 * r} ${-0.89 * r}h${1.78 * r}v${1.78 * r}h${-1.78 * r}z`,
  (r) => `M0 ${-1.2 * r}L${1.1 * r} ${0.8 * r}H${-1.1 * r}z`,
  (r) => `M0 ${-1.3 * r}L${1.05 * r} 0L0 ${1.3 * r}L${-1.05 * r} 0z`,
  (r) => `M0 ${1.2 * r}L${1.1 * r} ${-0.8 * r}H${-1.1 * r}z`,
  (r) => `M${-r} ${-r}L${r} ${r}M${-r} ${r}L${r} ${-r}`,
  (r) => `M0 ${-1.2 * r}V${1.2 * r}M${-1.2 * r} 0H${1.2 * r}`,
];

const letters = ["A", "B", "C"];

// mark is the sign of the n-th picked combination: shape, colour and letter.
function mark(n) {
  return svg("svg", { class: "mark", viewBox: "-8 -8 16 16", role: "img", "aria-label": letters[n] }, svg("path", { d: shapes[n](6), class: "k" + n }));
}
