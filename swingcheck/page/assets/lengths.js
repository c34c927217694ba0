// Lengths and angles for reading, written as the report writes them.

const MM_PER_INCH = 25.4;

function nearestWhole(value) {
  // Half goes to the even neighbour, as in the report.
  const low = Math.floor(value);
  if (value - low !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
}

function fractionText(value, denominator = 64) {
  let over = nearestWhole(Math.abs(value) * denominator);
  const whole = Math.floor(over / denominator);
  const sign = value < 0 && over ? "-" : "";
  over -= whole * denominator;
  if (!over) return `${sign}${whole}`;
  let under = denominator;
  while (over % 2 === 0 && under % 2 === 0) [over, under] = [over / 2, under / 2];
  return whole ? `${sign}${whole} ${over}/${under}` : `${sign}${over}/${under}`;
}

function decimalText(value, places) {
  // A value that lies exactly half way is an odd number of halves of its last place in binary too.
  const halfway = (Math.abs(value) * 2 ** (places + 1)) % 2 === 1;
  const even = halfway ? nearestWhole(value * 10 ** places) / 10 ** places : value;
  const text = even.toFixed(places);
  return /[1-9]/.test(text) ? text : text.replace("-", "");
}

function lengthText(value, unit) {
  if (unit === "mm") return `${decimalText(value * MM_PER_INCH, 1)} mm`;
  const fraction = fractionText(value);
  const off = value - nearestWhole(value * 64) / 64;
  return Math.abs(off) < 0.0005 ? `${fraction} in` : `${fraction} in (${decimalText(value, 3)})`;
}

function roughText(value, unit) {
  return unit === "mm" ? `${(value * MM_PER_INCH).toFixed(0)} mm` : `${fractionText(value, 8)} in`;
}

function degreesText(degrees) {
  const text = decimalText(degrees, 2);
  return text.replace(/\.?0+$/, "");
}
