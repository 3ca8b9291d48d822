// opened is what the page's data hold: JSON, compressed, in base64.
async function opened(id) {
  const bytes = Uint8Array.from(atob(byId(id).textContent), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).json();
}

// unpack turns a column into numbers; what is missing becomes NaN.
function unpack(column) {
  const text = atob(column.data),
    width = column.width;
  const numbers = new Float64Array(text.length / width),
    gap = 256 ** width - 1;
  for (let i = 0; i < numbers.length; i++) {
    let q = 0;
    for (let b = width - 1; b >= 0; b--) q = 256 * q + text.charCodeAt(i * width + b);
    const x = column.from + column.step * q;
    numbers[i] = column.gaps && q === gap ? NaN : column.log ? Math.exp(x) : x;
  }
  return numbers;
}
