// curvesOf are the curves of a row in the pilot's units; null if they are not known.
function curvesOf(row) {
  const at = detailOf(row);
  if (!at) return null;
  const { batch: d, k } = at,
    c = d.details.curves,
    part = (column, n, i) => column[k * n + i];
  const cellVolts = (share) => c.lowestCellV + c.cellSpanV * share;
  const fullG = figureOf(row, "full_throttle_thrust_g").value,
    fullA = figureOf(row, "full_throttle_current_a").value;
  const curves = { thrust: [[0, 0]], current: [[0, 0]], power: [], cell: [] };
  for (let i = 0; i < c.throttleSteps; i++) {
    const throttle = (100 * (i + 1)) / c.throttleSteps;
    curves.thrust.push([throttle, fullG * part(d.thrust, c.throttleSteps, i)]);
    curves.current.push([throttle, fullA * part(d.current, c.throttleSteps, i)]);
  }
  for (let i = 0; i <= c.speedSteps; i++) {
    const share = part(d.power, c.speedSteps + 1, i);
    if (share > 0) curves.power.push([(d.topMps[k] * i) / c.speedSteps, d.powerW[k] * share]);
  }
  const minutes = figureOf(row, "style_minutes");
  for (let i = 0; minutes && i <= c.flightSteps; i++) {
    curves.cell.push([
      minutes.value * part(d.time, c.flightSteps + 1, i),
      cellVolts(part(d.cellV, c.flightSteps + 1, i)),
    ]);
  }
  curves.limit = { value: d.limitA[k], name: c.limits[d.limit[k]] };
  curves.punchV = cellVolts(d.punchV[k]);
  return curves;
}

// panels draw one quantity each; thrust and current share the throttle axis.
function panels(picks) {
  const curves = picks.map(curvesOf),
    width = Math.max(Math.floor(panelWidth()), 260);
  const lines = (of) => curves.map((c) => (c ? of(c) : []));
  const throttle = { low: 0, high: 100 };
  byId("panels").replaceChildren(
    panel(
      "Thrust and current over throttle, standing still, full pack",
      [
        [{ ...throttle }, "thrust, g", lines((c) => c.thrust), null, 0],
        [
          { ...throttle, label: "throttle, %" },
          "current from the pack, A",
          lines((c) => c.current),
          lines((c) => c.limit),
          0,
        ],
      ],
      width,
    ),
    panel(
      "Power over speed in level flight, pack half empty",
      [[{ low: 0, label: "speed, m/s" }, "power from the pack, W", lines((c) => c.power), null, 0]],
      width,
    ),
    panel(
      `Cell voltage over the flight, flown as ${page.style}`,
      [[{ low: 0, label: "time, min" }, "one cell on the display, V", lines((c) => c.cell), null, null]],
      width,
    ),
  );
}

function panelWidth() {
  const box = byId("panels"),
    style = getComputedStyle(box),
    columns = style.gridTemplateColumns.split(" ").length;
  return (box.clientWidth - (columns - 1) * parseFloat(style.columnGap || 0)) / columns - 2;
}

function panel(caption, parts, width) {
  const words = [];
  const drawings = parts.map(([x, label, curves, limits, from]) => {
    const target = svg("svg", { "aria-hidden": "true" });
    const all = curves.flat(),
      limitValues = (limits || []).map((l) => l.value).filter((v) => v > 0);
    const top = Math.max(...all.map((p) => p[1]), 1e-9),
      near = limitValues.filter((v) => v < 1.6 * top);
    const y = from === null ? span(all.map((p) => p[1])) : { low: from, high: Math.max(top, ...near) * 1.08 };
    const f = frame(
      target,
      width,
      x.label ? 236 : 190,
      { ...x, high: x.high || Math.max(...all.map((p) => p[0]), 1e-9) * 1.03 },
      { ...y, label },
    );
    curves.forEach((curve, n) => {
      if (curve.length < 2) return;
      const points = curve.map(([u, v]) => [f.px(u), f.py(v)]),
        [ex, ey] = points[points.length - 1];
      target.append(
        svg("path", { class: `curve k${n}`, d: smooth(points) }),
        svg("path", { class: `glyph k${n}`, d: shapes[n](5.5), transform: `translate(${ex} ${ey})` }),
      );
      const limit = limits && limits[n];
      if (limit && limit.value > 0 && limit.value <= y.high) {
        target.append(svg("path", { class: `limitline k${n}`, d: `M${f.left} ${f.py(limit.value)}H${width - 16}` }));
        const text = `${limit.name} ${fixed(limit.value, 0)} A`,
          same = limits.map((l) => `${l.name} ${fixed(l.value || 0, 0)} A` === text);
        const sharing = letters.filter((_, m) => same[m]);
        if (sharing[0] === letters[n])
          target.append(svg("text", { x: f.left + 4, y: f.py(limit.value) - 4 }, `${sharing.join(", ")}: ${text}`));
      }
      const [, first] = curve[0],
        [lastX, last] = curve[curve.length - 1];
      words.push(
        `${letters[n]}, ${label}: ${fixed(first, 1)} at first, ${fixed(last, 1)} at ${fixed(lastX, 1)}` +
          (limit && limit.value > 0 ? `, limit of the ${limit.name} ${fixed(limit.value, 0)}` : ""),
      );
    });
    return target;
  });
  return el(
    "figure",
    { role: "img", "aria-label": `${caption}. ${words.join("; ")}` },
    el("figcaption", {}, caption),
    el("div", { class: "plot" }, drawings),
  );
}
