// ticks are round numbers from low to high, at most about n of them.
function ticks(low, high, n) {
  const raw = (high - low) / n || 1,
    power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw * 0.999);
  const list = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) list.push(k * step);
  return { list, digits: Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) };
}

// frame draws the axes of a plot into an svg and returns the scales; x and y are {low, high, label}. A
// plot without an x label leaves its numbers to the one below it.
function frame(target, width, height, x, y) {
  const left = 46,
    right = 16,
    top = 22,
    bottom = x.label ? 38 : 8;
  const px = (v) => left + ((v - x.low) / (x.high - x.low || 1)) * (width - left - right);
  const py = (v) => height - bottom - ((v - y.low) / (y.high - y.low || 1)) * (height - top - bottom);
  target.setAttribute("viewBox", `0 0 ${width} ${height}`);
  target.setAttribute("height", height);
  const lines = [];
  const across = ticks(x.low, x.high, Math.max(2, width / 85)),
    up = ticks(y.low, y.high, Math.max(3, height / 48));
  for (const v of across.list) {
    lines.push(svg("path", { class: "grid", d: `M${px(v)} ${top}V${height - bottom}` }));
    if (x.label)
      lines.push(
        svg("text", { x: px(v), y: height - bottom + 15, "text-anchor": "middle" }, fixed(v, across.digits)),
      );
  }
  for (const v of up.list) {
    lines.push(svg("path", { class: "grid", d: `M${left} ${py(v)}H${width - right}` }));
    lines.push(svg("text", { x: left - 6, y: py(v) + 4, "text-anchor": "end" }, fixed(v, up.digits)));
  }
  lines.push(svg("path", { class: "grid base", d: `M${left} ${height - bottom}H${width - right}` }));
  lines.push(svg("text", { class: "title", x: 4, y: 14 }, y.label));
  if (x.label)
    lines.push(svg("text", { class: "title", x: width - right, y: height - 6, "text-anchor": "end" }, x.label));
  target.replaceChildren(...lines);
  return { px, py, left, top, width, height };
}

// smooth is a path through points, monotone between them (Fritsch and Carlson 1980).
function smooth(points) {
  const n = points.length;
  if (n < 2) return "";
  const slope = [],
    tangent = [];
  for (let i = 0; i + 1 < n; i++)
    slope.push((points[i + 1][1] - points[i][1]) / (points[i + 1][0] - points[i][0] || 1e-9));
  for (let i = 0; i < n; i++) {
    const before = slope[Math.max(i - 1, 0)],
      after = slope[Math.min(i, n - 2)];
    tangent.push(before * after <= 0 ? 0 : (2 * before * after) / (before + after));
  }
  let path = `M${points[0][0].toFixed(1)} ${points[0][1].toFixed(1)}`;
  for (let i = 0; i + 1 < n; i++) {
    const [x, y] = points[i],
      [u, v] = points[i + 1],
      third = (u - x) / 3;
    const curve = [x + third, y + tangent[i] * third, u - third, v - tangent[i + 1] * third, u, v];
    path += `C${curve.map((c) => c.toFixed(1)).join(" ")}`;
  }
  return path;
}
