// What holds at a swing angle: looked up in what was worked out, never worked out anew.

const SAME_DEG = 1e-9;

// The slider and the chart share one scale: it opens out toward closed, where slabs bind.
function shareOf(scene, degrees) {
  return Math.sqrt(Math.max(degrees, 0) / scene.high_deg);
}

function degreesOf(scene, share) {
  return scene.high_deg * share * share;
}

// The contact to jump to: what stops the slab before its seat does, else its seat.
function contactOf(scene) {
  return scene.touches.find((touch) => !touch.seated) || scene.touches[0] || null;
}

function openingAtStrike(scene, degrees) {
  return 2 * scene.strike_reach_in * Math.sin((degrees * Math.PI) / 360);
}

function distancesAt(scene, degrees) {
  // Distance to each fixed part, on the straight line between the two nearest table angles.
  const table = scene.clearance;
  if (!table) return null;
  const angles = table.angles_deg;
  const last = angles.length - 1;
  if (degrees <= angles[0]) return table.rows_in[0];
  if (degrees >= angles[last]) return table.rows_in[last];
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (angles[middle] <= degrees) low = middle;
    else high = middle;
  }
  const share = (degrees - angles[low]) / (angles[high] - angles[low]);
  if (share === 0) return table.rows_in[low];
  return table.rows_in[low].map((d, k) => d + share * (table.rows_in[high][k] - d));
}

function swingAt(scene, degrees) {
  // state: free, contact, seat or past (a place that the slab cannot get to).
  const distances = distancesAt(scene, degrees);
  const parts = scene.clearance ? scene.clearance.parts : [];
  const overlapped = distances ? parts.filter((_, k) => distances[k] <= 0) : [];
  const found = { degrees, state: "free", parts: [], touch: null, distances };
  for (const touch of scene.touches) {
    const away = touch.way === "closing" ? touch.angle_deg - degrees : degrees - touch.angle_deg;
    if (away < -SAME_DEG) continue;
    found.touch = touch;
    found.state = touch.seated ? "seat" : away <= SAME_DEG ? "contact" : "past";
    found.parts = found.state === "past" ? [...new Set([...touch.parts, ...overlapped])] : touch.parts;
    return found;
  }
  if (scene.blocked_by.length && overlapped.length) {
    found.state = "past";
    found.parts = overlapped;
  }
  return found;
}

function nearestOf(scene, swing) {
  // The nearest fixed part, or null where nothing is within the table's reach.
  if (!swing.distances) return null;
  let best = -1;
  swing.distances.forEach((d, k) => {
    if (best < 0 || d < swing.distances[best]) best = k;
  });
  if (best < 0 || swing.distances[best] >= scene.clearance.within_in) return null;
  return { part: scene.clearance.parts[best], distance: swing.distances[best] };
}

function groupDistance(scene, swing, group) {
  if (!swing.distances) return null;
  const { parts, within_in: within } = scene.clearance;
  const each = group.parts.map((name) => swing.distances[parts.indexOf(name)] ?? within);
  return Math.min(...each);
}

function distanceText(scene, distance) {
  const within = scene.clearance.within_in;
  if (distance >= within) return `over ${lengthText(within, scene.unit)}`;
  return distance > 0 ? lengthText(distance, scene.unit) : "touching";
}

function theText(name) {
  return name.startsWith("the ") ? name : `the ${name}`;
}

function stateText(scene, swing) {
  if (swing.state === "contact") return `Contact: touches ${swing.touch.named}`;
  if (swing.state === "seat") return `At rest on ${swing.touch.named}`;
  if (swing.state === "past" && !swing.touch)
    return `Blocked: overlaps ${swing.parts.map(theText).join(", ")}`;
  if (swing.state === "past")
    return `Past contact: ${swing.touch.named} stopped it at ${degreesText(swing.touch.angle_deg)}\u00b0`;
  const near = nearestOf(scene, swing);
  if (!swing.distances) return "Clearance is being measured";
  if (!near) return `Nothing nearer than ${lengthText(scene.clearance.within_in, scene.unit)}`;
  return `Nearest: ${theText(near.part)}, ${lengthText(near.distance, scene.unit)}`;
}
