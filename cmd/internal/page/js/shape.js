// Marks of the builds that are compared: shape and letter beside colour.
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
  return svg(
    "svg",
    { class: "mark", viewBox: "-8 -8 16 16", role: "img", "aria-label": letters[n] },
    svg("path", { d: shapes[n](6), class: "k" + n }),
  );
}
