// Clearance against the swing angle, a line a part, and the same as a table at one angle.

// Quiet, and apart for eyes that see few colours: dark and light, plain and dashed in turn.
const LINES = [
  ["#1f6f8b", ""],
  ["#7a5c00", "7 3"],
  ["#5b4b8a", "2 3"],
  ["#3f6b58", "10 3 2 3"],
  ["#8a4b6b", "4 4"],
  ["#1b242c", ""],
  ["#5c7f99", "9 2 2 2 2 2"],
  ["#a07c2c", "1 3"],
  ["#78868f", ""],
  ["#2f8f76", "6 2"],
  ["#5b4b8a", "12 4"],
  ["#7a5c00", ""],
  ["#1f6f8b", "3 3"],
  ["#8a4b6b", "10 3 2 3"],
];
const DEGREE_TICKS = [0, 1, 5, 10, 20, 45, 90, 135, 180, 225, 270];
const SPACE = { left: 46, right: 18, top: 42, bottom: 40, height: 280 };

// Returns { show, turn }; pick(degrees) is called where the chart is pressed.
function clearanceChart(root, table, colours, pick) {
  let scene = null;
  let swing = null;
  let width = 0;
  let marker = null;
  let rows = [];

  const x = (degrees) => SPACE.left + shareOf(scene, degrees) * (width - SPACE.left - SPACE.right);
  const y = (inches) =>
    SPACE.height - SPACE.bottom - (inches / scene.clearance.within_in) * (SPACE.height - SPACE.top - SPACE.bottom);

  function text(svg, at, words, attributes = {}) {
    const made = svgElement("text", { x: at[0], y: at[1], fill: colours.quiet, "font-size": 12, ...attributes }, svg);
    made.textContent = words;
    return made;
  }

  function axes(svg) {
    const ticks = scene.unit === "mm" ? [0, 5, 10, 15, 20, 25].map((v) => [v / MM_PER_INCH, `${v}`]) : [0, 1, 2, 3, 4].map((v) => [v / 4, fractionText(v / 4)]);
    for (const [inches, words] of ticks) {
      svgElement("path", { d: `M${SPACE.left} ${y(inches)}H${width - SPACE.right}`, stroke: colours.line, class: "grid" }, svg);
      text(svg, [SPACE.left - 7, y(inches) + 4], words, { "text-anchor": "end" });
    }
    text(svg, [4, 14], `clearance, ${scene.unit}`);
    let free = -Infinity;
    for (const degrees of DEGREE_TICKS.filter((v) => v <= scene.high_deg + 1e-6)) {
      const at = x(degrees);
      svgElement("path", { d: `M${at} ${SPACE.top}V${SPACE.height - SPACE.bottom}`, stroke: colours.line, class: "grid" }, svg);
      const words = `${degrees}\u00b0`;
      const half = 4 * words.length; // of its width, a digit of these letters being under 8 wide
      if (at - half < free) continue;
      text(svg, [at, SPACE.height - SPACE.bottom + 16], words, { "text-anchor": "middle" });
      free = at + half + 4;
    }
    text(svg, [(SPACE.left + width - SPACE.right) / 2, SPACE.height - 6], "swing angle, closed at the left", {
      "text-anchor": "middle",
    });
  }

  // Where the slab cannot get to, hatched, and the contact's line at its edge.
  function contacts(svg) {
    const defs = svgElement("defs", {}, svg);
    const hatch = svgElement("pattern", { id: "cannot", width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(-45)" }, defs);
    svgElement("path", { d: "M0 3.5H7", stroke: colours.line, "stroke-width": 1.5 }, hatch);
    for (const touch of scene.touches) {
      const at = x(touch.angle_deg);
      const [low, high] = touch.way === "closing" ? [x(0), at] : [at, x(scene.high_deg)];
      const tall = SPACE.height - SPACE.top - SPACE.bottom;
      if (high > low) svgElement("rect", { x: low, y: SPACE.top, width: high - low, height: tall, fill: "url(#cannot)" }, svg);
      const loud = touch.seated ? colours.seat : colours.contact;
      svgElement("path", { d: `M${at} ${SPACE.top - 4}V${SPACE.height - SPACE.bottom}`, stroke: loud, class: "contact" }, svg);
      const words = `${touch.seated ? "seat" : "contact"} ${degreesText(touch.angle_deg)}\u00b0`;
      const ends = at > width - 110;
      text(svg, [at + (ends ? -4 : 4), SPACE.top - 8], words, {
        fill: loud,
        "text-anchor": ends ? "end" : "start",
        "font-weight": 600,
      });
    }
  }

  function lines(svg) {
    const { angles_deg: angles, within_in: within } = scene.clearance;
    const { parts, rows_in: table_ } = scene.clearance;
    for (const { group, paint } of rows) {
      const columns = group.parts.map((name) => parts.indexOf(name)).filter((k) => k >= 0);
      let d = "";
      let pen = false;
      angles.forEach((degrees, k) => {
        const least = Math.min(...columns.map((c) => table_[k][c]));
        const shown = least < within;
        if (shown) d += `${pen ? "L" : "M"}${x(degrees).toFixed(2)} ${y(least).toFixed(2)}`;
        pen = shown;
      });
      if (d) svgElement("path", { d, fill: "none", stroke: paint[0], "stroke-dasharray": paint[1], class: "curve" }, svg);
    }
  }

  function draw() {
    width = Math.max(260, root.clientWidth);
    root.replaceChildren();
    if (!scene || !scene.clearance) {
      htmlElement("p", "The clearance is being measured.", root, "note");
      marker = null;
      return;
    }
    const svg = svgElement("svg", { width, height: SPACE.height, viewBox: `0 0 ${width} ${SPACE.height}`, role: "img", "aria-label": chartWords() }, root);
    svgElement("rect", { width, height: SPACE.height, fill: colours.paper }, svg);
    contacts(svg);
    axes(svg);
    lines(svg);
    marker = svgElement("path", { stroke: colours.ink, class: "marker" }, svg);
    svg.addEventListener("pointerdown", (event) => {
      svg.setPointerCapture(event.pointerId);
      press(event);
    });
    svg.addEventListener("pointermove", (event) => event.buttons & 1 && press(event));
    if (swing) mark();
  }

  function press(event) {
    const box = root.getBoundingClientRect();
    const share = (event.clientX - box.left - SPACE.left) / (width - SPACE.left - SPACE.right);
    pick(Math.min(1, Math.max(0, share)));
  }

  function chartWords() {
    const touched = scene.touches.map((touch) => `${touch.seated ? "seat" : "contact"} with ${touch.named} at ${degreesText(touch.angle_deg)} degrees`);
    const what = `Chart of the clearance to each part from closed to ${degreesText(scene.high_deg)} degrees`;
    return `${[what, ...touched].join("; ")}. The table below gives the figures at the swing angle.`;
  }

  function mark() {
    if (!marker) return;
    const at = x(swing.degrees);
    marker.setAttribute("d", `M${at} ${SPACE.top}V${SPACE.height - SPACE.bottom}M${at - 6} ${SPACE.height - SPACE.bottom + 1}l6 -9l6 9z`);
    marker.setAttribute("fill", colours.ink);
  }

  function fillTable() {
    const body = table.tBodies[0];
    body.replaceChildren();
    const shown = scene.clearance
      ? scene.groups.filter((group) => group.parts.some((name) => scene.clearance.parts.includes(name)))
      : [];
    rows = shown.map((group, k) => {
      const paint = LINES[k % LINES.length];
      const row = htmlElement("tr", "", body);
      const name = htmlElement("th", group.name, row);
      name.scope = "row";
      const swatch = svgElement("svg", { viewBox: "0 0 34 10", "aria-hidden": "true", class: "swatch" });
      svgElement("path", { d: "M1 5H33", stroke: paint[0], "stroke-dasharray": paint[1], class: "curve" }, swatch);
      name.prepend(swatch);
      return { group, paint, row, cell: htmlElement("td", "", row) };
    });
  }

  function fillFigures() {
    const least = Math.min(...rows.map(({ group }) => groupDistance(scene, swing, group) ?? Infinity));
    for (const { group, row, cell } of rows) {
      const touched = group.parts.some((name) => swing.parts.includes(name));
      const distance = groupDistance(scene, swing, group);
      cell.textContent = touched ? "touching" : distanceText(scene, distance);
      row.className = touched ? (swing.state === "seat" ? "seated" : "touching") : distance === least ? "least" : "";
    }
  }

  if (window.ResizeObserver)
    new ResizeObserver(() => Math.abs(root.clientWidth - width) > 1 && draw()).observe(root);
  return {
    show(next) {
      scene = next;
      fillTable();
      draw();
    },
    turn(next) {
      swing = next;
      mark();
      fillFigures();
    },
  };
}
