// Numbers as the command line writes them.
// exponent is that of a number in scientific notation, 0 for 0.
const exponent = (x) => (x === 0 || !Number.isFinite(x) ? 0 : Math.floor(Math.log10(Math.abs(x)) + 1e-12));

// decimals is the number of decimals that an interval supports, as in the command's tables: the last
// digit is worth at most a half of the interval's half-width; under 0 it stands for tens and so on.
function decimals(value, low, high) {
  const most = 3 - exponent(value),
    half = (high - low) / 2;
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

// ranged is a figure with its range in brackets.
function ranged(figure) {
  const digits = decimals(figure.value, figure.low, figure.high);
  return `${fixed(figure.value, digits)} (${fixed(figure.low, digits)} to ${fixed(figure.high, digits)})`;
}
