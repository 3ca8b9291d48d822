// scoreOf is the weighted geometric mean of a row's axes, 0 to 100; weights add up to 1.
function scoreOf(row, weights) {
  let sum = 0;
  for (let a = 0; a < weights.length; a++) if (weights[a] > 0) sum += weights[a] * rows.logs[a][row];
  return 100 * Math.exp(sum);
}

// shares divides weights by their sum; null if all are 0.
function shares(weights) {
  const sum = weights.reduce((a, b) => a + b, 0);
  return sum > 0 ? weights.map((w) => w / sum) : null;
}

// keeps says whether a row keeps limits, in steps or null.
function keeps(row, limits) {
  for (let b = 0; b < limits.length; b++) {
    if (limits[b] === null) continue;
    const steps = rows.steps[b][row];
    if (page.bounds[b].atMost ? steps > limits[b] : steps < limits[b]) return false;
  }
  return true;
}

// doubts are the limits that a row's value keeps, or breaks, and its range does not.
function doubts(row, limits) {
  return page.bounds.flatMap((bound, b) => {
    const figure = limits[b] === null ? undefined : figureOf(row, bound.key),
      limit = limits[b] / bound.perUnit;
    if (!figure || !(figure.low < limit && limit < figure.high)) return [];
    return [
      `${bound.name} may fall on either side of the limit of ` +
        `${withUnit(String(limit), bound.unit)}: ${withUnit(interval(figure), bound.unit)}`,
    ];
  });
}

// tie orders rows of one score: by the unweighted sum, then by the ids.
function tie(a, b) {
  return (
    sums[b] - sums[a] ||
    rows.motor[a] - rows.motor[b] ||
    rows.prop[a] - rows.prop[b] ||
    rows.pack[a] - rows.pack[b] ||
    rows.kit[a] - rows.kit[b]
  );
}

// rowKey says which row of the ranking a combination belongs to: boards, frames and twin packs make variants of one.
const rowKey = (row) => `${rows.motor[row]} ${rows.prop[row]} ${page.parts.packs[rows.pack[row]].class || 0}`;

// rank lists the combinations that keep the limits, best first, with the scores of all; heads are the best of each
// row, and variants how many more each row has.
function rank(weights, limits) {
  const kept = [],
    scores = new Float64Array(rows.count),
    w = shares(weights);
  for (let row = 0; row < rows.count; row++) {
    if (w) scores[row] = scoreOf(row, w);
    if (keeps(row, limits)) kept.push(row);
  }
  kept.sort((a, b) => scores[b] - scores[a] || tie(a, b));
  const heads = [],
    places = new Map(),
    variants = [];
  for (const row of kept) {
    const key = rowKey(row);
    if (places.has(key)) variants[places.get(key)]++;
    else {
      places.set(key, heads.length);
      heads.push(row);
      variants.push(0);
    }
  }
  return { kept, scores, heads, places, variants };
}
