// Plan close-ups, cut level through the scene and seen from above, the pull side downward.

const SVG = "http://www.w3.org/2000/svg";
const LIFE_SIZE = 3.6; // inches across at which hatching has its own pitch
let planCount = 0;

function svgElement(name, attributes = {}, parent = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (parent) parent.append(made);
  return made;
}

function htmlElement(name, text = "", parent = null, className = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (className) made.className = className;
  if (parent) parent.append(made);
  return made;
}

function hatching(defs, id, material, hand, scale) {
  const pitch = (material.pitch / 72) * scale || 1;
  const turn = -(material.hatch[0] || 0) * hand;
  const pattern = svgElement(
    "pattern",
    { id, width: pitch, height: pitch, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` },
    defs,
  );
  svgElement("rect", { width: pitch, height: pitch, fill: material.fill }, pattern);
  const stroke = { stroke: material.line, "stroke-width": 0.009 * scale };
  if (material.hatch.length)
    svgElement("line", { x1: 0, x2: pitch, y1: pitch / 2, y2: pitch / 2, ...stroke }, pattern);
  if (material.hatch.length > 1)
    svgElement("line", { x1: pitch / 2, x2: pitch / 2, y1: 0, y2: pitch, ...stroke }, pattern);
}

// A kind of part as it can stand in a reference to its hatching.
function hatchName(kind) {
  return kind.replace(/[^a-z]+/g, "-");
}

function outlinePath(outlines, hand) {
  return outlines.map((points) => `M${points.map(([x, y]) => `${hand * x} ${y}`).join("L")}Z`).join("");
}

// The turn of the swing within the plane of a level cut, as an SVG transform.
function planTurn(scene, degrees, height) {
  const m = turnAbout(scene.plan_axis, (degrees * Math.PI) / 180);
  const hand = scene.hand;
  const [e, f] = [m[8] * height + m[12], m[9] * height + m[13]];
  return `matrix(${m[0]} ${hand * m[1]} ${hand * m[4]} ${m[5]} ${hand * e} ${f})`;
}

function planPanel(scene, view, colours) {
  const hand = view.hand || scene.hand;
  const id = (planCount += 1);
  const [wide, tall] = view.size;
  const left = hand > 0 ? view.corner[0] : -view.corner[0] - wide;
  const top = view.corner[1];
  const scale = wide / LIFE_SIZE;
  const figure = htmlElement("figure", "", null, `panel panel-${view.name}`);
  const caption = htmlElement("figcaption", "", figure);
  htmlElement("span", view.heading, caption, "heading").id = `panel-${id}`;
  const svg = svgElement("svg", {
    viewBox: `${left} ${top} ${wide} ${tall}`,
    role: "img",
    "aria-labelledby": `panel-${id} panel-note-${id}`,
  });
  figure.append(svg);
  const note = htmlElement("p", "", figure, "note");
  note.id = `panel-note-${id}`;
  const defs = svgElement("defs", {}, svg);
  for (const [kind, material] of Object.entries(colours.materials))
    hatching(defs, `hatch-${id}-${hatchName(kind)}`, material, hand, scale);
  svgElement("rect", { x: left, y: top, width: wide, height: tall, fill: colours.paper }, svg);

  const still = view.shapes !== undefined; // posed where the verdict is decided: nothing turns
  const pieces = (view.shapes || scene.plan.shapes).map((shape) => {
    const fill = shape.beyond ? "none" : `url(#hatch-${id}-${hatchName(shape.kind)})`;
    const path = svgElement("path", {
      d: outlinePath(shape.outlines, hand),
      fill,
      "fill-rule": "evenodd",
      stroke: shape.beyond ? colours.quiet : colours.ink,
      class: shape.beyond ? "thin" : "edge",
      "data-part": shape.name,
    });
    return { shape, path, fill };
  });
  for (const { shape, path } of pieces) if (!shape.moving) svg.append(path);
  const ghost = svgElement("path", { fill: "none", stroke: colours.ghost, class: "ghost" }, svg);
  const slab = pieces.find(({ shape }) => shape.kind === "slab");
  if (slab) ghost.setAttribute("d", outlinePath(slab.shape.outlines, hand));
  for (const { shape, path } of pieces) if (shape.moving) svg.append(path);
  if (!still) pinCross(svg, scene, scale, colours);
  scaleBar(svg, scene, { left, top, wide, tall, scale }, colours);
  const ring = svgElement("g", { class: "ring" }, svg);
  for (const [paint, className] of [[colours.paper, "halo"], [colours.contact, "loud"]])
    svgElement("circle", { r: 0.13 * scale, fill: "none", stroke: paint, class: className }, ring);

  function mark([x, y], paint) {
    ring.setAttribute("transform", `translate(${hand * x} ${y})`);
    ring.children[1].setAttribute("stroke", paint);
  }

  function stand() {
    for (const { shape, path } of pieces)
      if (view.lit.includes(shape.name)) path.setAttribute("fill", colours.contact);
    ghost.style.display = "none";
    ring.style.display = view.mark ? "" : "none";
    if (view.mark) mark(view.mark, colours.contact);
    note.textContent = scene.finding;
  }

  function turn(swing) {
    const loud = swing.state === "seat" ? colours.seat : colours.contact;
    for (const { shape, path, fill } of pieces) {
      const lit = !shape.beyond && swing.parts.includes(shape.name);
      path.setAttribute("fill", lit ? loud : fill);
      if (shape.moving) path.setAttribute("transform", planTurn(scene, swing.degrees, shape.height));
    }
    ghost.style.display = swing.degrees > 0.01 ? "" : "none";
    ring.style.display = swing.touch ? "" : "none";
    if (swing.touch) mark(swing.touch.point, loud);
    note.textContent = panelNote(scene, view, swing);
  }
  if (still) stand();
  return { figure, turn: still ? () => {} : turn };
}

function pinCross(svg, scene, scale, colours) {
  const { point, direction } = scene.plan_axis;
  const rise = (scene.plan.height - point[2]) / direction[2];
  const [x, y] = [scene.hand * (point[0] + rise * direction[0]), point[1] + rise * direction[1]];
  const arm = 0.3 * Math.max(scale, 0.3);
  for (const [dx, dy] of [[arm, 0], [0, arm]])
    for (const [stroke, className] of [[colours.paper, "under"], [colours.ink, "chain"]])
      svgElement("line", { x1: x - dx, x2: x + dx, y1: y - dy, y2: y + dy, stroke, class: className }, svg);
}

function scaleBar(svg, scene, { left, top, wide, tall, scale }, colours) {
  const big = scale > 0.5;
  const [length, words] =
    scene.unit === "mm" ? [big ? 10 : 2, big ? "10 mm" : "2 mm"] : [big ? 0.5 : 0.125, big ? "1/2 in" : "1/8 in"];
  const inches = scene.unit === "mm" ? length / MM_PER_INCH : length;
  const [x, y] = [left + 0.03 * wide, top + tall - 0.035 * wide];
  const size = 0.036 * wide;
  const width = Math.max(inches, size * words.length * 0.58) + 0.03 * wide;
  svgElement(
    "rect",
    { x: x - 0.015 * wide, y: y - size * 1.55, width, height: size * 2.1, fill: colours.paper, opacity: 0.88 },
    svg,
  );
  const tick = 0.012 * wide;
  const d = `M${x} ${y - tick}v${2 * tick}M${x} ${y}h${inches}M${x + inches} ${y - tick}v${2 * tick}`;
  svgElement("path", { d, stroke: colours.ink, class: "bar" }, svg);
  const text = svgElement("text", { x, y: y - size * 0.55, "font-size": size, fill: colours.ink }, svg);
  text.textContent = words;
}

// The distances read at a corner, least first, in words.
function panelNote(scene, view, swing) {
  if (!swing.distances) return "";
  const groups = scene.groups.filter((group) => group.parts.every((name) => view.parts.includes(name)));
  const read = groups.map((group) => [groupDistance(scene, swing, group), group.name]);
  read.sort((a, b) => a[0] - b[0]);
  const near = read.filter(([distance]) => distance < scene.clearance.within_in);
  if (!near.length) {
    const within = lengthText(scene.clearance.within_in, scene.unit);
    return view.name === "strike" && swing.degrees > 0
      ? `The strike edge is ${roughText(openingAtStrike(scene, swing.degrees), scene.unit)} away.`
      : `Nothing within ${within} here.`;
  }
  const said = near.map(([distance, name]) => `${name} ${distanceText(scene, distance)}`);
  return said.join("; ");
}

// Returns { show, turn }: the panels of a scene, and the swing in them.
function planPanels(root, key, heading, colours) {
  let panels = [];
  return {
    show(scene) {
      panels = scene.plan.views.map((view) => planPanel(scene, view, colours));
      root.replaceChildren(...panels.map((panel) => panel.figure));
      heading.textContent = `Cut ${roughText(scene.plan.height, scene.unit)} above the floor, seen from above, the pull side below.`;
      key.replaceChildren(...planKey(scene, colours));
    },
    turn(swing) {
      for (const panel of panels) panel.turn(swing);
    },
  };
}

function planKey(scene, colours) {
  const seen = new Map();
  for (const shape of scene.plan.shapes) {
    const material = colours.materials[shape.kind];
    seen.set(material.label, material);
  }
  const items = [...seen].map(([label, material]) => {
    const item = htmlElement("li", label);
    const id = `key-${(planCount += 1)}`;
    const svg = svgElement("svg", { viewBox: "0 0 0.34 0.2", "aria-hidden": "true" });
    hatching(svgElement("defs", {}, svg), id, material, scene.hand, 1);
    const box = { x: 0.01, y: 0.01, width: 0.32, height: 0.18 };
    svgElement("rect", { ...box, fill: `url(#${id})`, stroke: colours.ink, class: "edge" }, svg);
    item.prepend(svg);
    return item;
  });
  const ghost = htmlElement("li", "slab closed");
  const svg = svgElement("svg", { viewBox: "0 0 0.34 0.2", "aria-hidden": "true" });
  svgElement("path", { d: "M0 .1h.34", stroke: colours.ghost, class: "ghost" }, svg);
  ghost.prepend(svg);
  return [...items, ghost];
}
