// The slab in its opening in 3D: flat faces, drawn edges, the contact in the one loud colour.
// WebGL 2 and nothing else. Corners are inches, z up, already on the hand that they hang.

const FACE_VERTEX = `#version 300 es
in vec3 place; in vec3 normal;
uniform mat4 model, camera; uniform mat3 look;
out vec3 turned; out float height;
void main() {
  vec4 here = model * vec4(place, 1.0);
  height = here.z;
  turned = look * mat3(model) * normal;
  gl_Position = camera * here;
}`;
const FACE_FRAGMENT = `#version 300 es
precision mediump float;
in vec3 turned; in float height;
uniform vec3 fill; uniform float cut, glow;
out vec4 colour;
void main() {
  if (height > cut) discard;
  vec3 n = normalize(turned);
  float light = 0.78 + 0.22 * max(dot(n, vec3(0.2, 0.35, 0.9)), 0.0) + 0.06 * n.y;
  colour = vec4(fill * mix(light, 1.0, glow), 1.0);
}`;
const EDGE_VERTEX = `#version 300 es
in vec3 from; in vec3 to;
uniform mat4 model, camera; uniform vec2 screen; uniform float width, lift;
out float height;
void main() {
  vec4 a = model * vec4(from, 1.0), b = model * vec4(to, 1.0);
  vec4 p = camera * a, q = camera * b;
  float near = 0.05;
  if (p.w < near && q.w > near) { float s = (near - p.w) / (q.w - p.w); p = mix(p, q, s); a = mix(a, b, s); }
  if (q.w < near && p.w > near) { float s = (near - q.w) / (p.w - q.w); q = mix(q, p, s); b = mix(b, a, s); }
  vec2 along = (q.xy / q.w - p.xy / p.w) * screen;
  along = length(along) > 0.0 ? normalize(along) : vec2(1.0, 0.0);
  bool end = gl_VertexID > 1;
  float side = (gl_VertexID & 1) == 0 ? 1.0 : -1.0;
  vec4 here = end ? q : p;
  height = end ? b.z : a.z;
  here.xy += vec2(-along.y, along.x) * side * width / screen * here.w;
  here.z -= lift * here.w;
  gl_Position = here;
}`;
const EDGE_FRAGMENT = `#version 300 es
precision mediump float;
in float height;
uniform vec3 ink; uniform float cut;
out vec4 colour;
void main() { if (height > cut) discard; colour = vec4(ink, 1.0); }`;
const RING_VERTEX = `#version 300 es
in vec3 place; uniform mat4 camera; uniform float size, height;
void main() { gl_Position = camera * vec4(place.xy, height, 1.0); gl_PointSize = size; }`;
const RING_FRAGMENT = `#version 300 es
precision mediump float;
uniform vec3 ink, paper; out vec4 colour;
void main() {
  float r = length(gl_PointCoord - 0.5) * 2.0;
  if (r > 1.0 || (r > 0.3 && r < 0.5)) discard;
  colour = vec4(r > 0.9 || (r > 0.22 && r < 0.58) ? paper : ink, 1.0);
}`;

const UNCUT = 1e6;
const NO_TURN = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

function rgb(hex) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16) / 255);
}

const minus = (a, b) => a.map((v, k) => v - b[k]);
const dot = (a, b) => a.reduce((sum, v, k) => sum + v * b[k], 0);
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a) => {
  const length = Math.hypot(...a) || 1;
  return a.map((v) => v / length);
};

// Column-major (16): the turn by an angle in radians about a line, climbing along it.
function turnAbout(axis, angle) {
  const { point, direction, rise } = axis;
  const [x, y, z] = direction;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const v = 1 - c;
  const rows = [
    [c + x * x * v, x * y * v - z * s, x * z * v + y * s],
    [y * x * v + z * s, c + y * y * v, y * z * v - x * s],
    [z * x * v - y * s, z * y * v + x * s, c + z * z * v],
  ];
  const shift = rows.map((row, k) => point[k] - dot(row, point) + rise * angle * direction[k]);
  return [0, 1, 2].flatMap((k) => [rows[0][k], rows[1][k], rows[2][k], 0]).concat(shift, 1);
}

function times(a, b) {
  const out = new Array(16);
  for (let column = 0; column < 4; column += 1)
    for (let row = 0; row < 4; row += 1)
      out[4 * column + row] = [0, 1, 2, 3].reduce(
        (sum, k) => sum + a[4 * k + row] * b[4 * column + k],
        0,
      );
  return out;
}

function program(gl, vertex, fragment) {
  const made = gl.createProgram();
  for (const [kind, source] of [
    [gl.VERTEX_SHADER, vertex],
    [gl.FRAGMENT_SHADER, fragment],
  ]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost())
    throw new Error(gl.getProgramInfoLog(made));
  const at = (name) => gl.getUniformLocation(made, name);
  return { made, at, attribute: (name) => gl.getAttribLocation(made, name) };
}

// The triangles of a part, each with its own corners and its face's normal: (n, 6).
function faceData(part) {
  const corner = (k) => part.corners.slice(3 * k, 3 * k + 3);
  const data = [];
  for (let k = 0; k < part.triangles.length; k += 3) {
    const [a, b, c] = [0, 1, 2].map((j) => corner(part.triangles[k + j]));
    const normal = unit(cross(minus(b, a), minus(c, a)));
    for (const p of [a, b, c]) data.push(...p, ...normal);
  }
  return data;
}

function edgeData(part) {
  return part.edges.flatMap((k) => part.corners.slice(3 * k, 3 * k + 3));
}

// What the plan's plane cuts of a shape: a fan over each outline, and the outlines as edges.
function capData(shape, hand) {
  const at = ([x, y]) => [hand * x, y, shape.height];
  const fan = [];
  const rim = [];
  for (const outline of shape.outlines) {
    outline.forEach((p, k) => rim.push(...at(p), ...at(outline[(k + 1) % outline.length])));
    for (let k = 2; k < outline.length; k += 1)
      for (const p of [outline[0], outline[k - 1], outline[k]]) fan.push(...at(p), 0, 0, 1);
  }
  return { fan, rim };
}

function pinData(scene) {
  // A chain line along the pins, a little past the slab at both ends.
  const { point, direction } = scene.axis;
  const data = [];
  const [low, high] = [scene.frame[0][2] - 2, scene.frame[1][2] + 3].map((z) => z - point[2]);
  const at = (t) => point.map((v, k) => v + direction[k] * t);
  for (let t = low; t < high; t += 3) {
    data.push(...at(t), ...at(Math.min(t + 1.9, high)));
    data.push(...at(t + 2.3), ...at(Math.min(t + 2.6, high)));
  }
  return data;
}

// Where to look from, by name: target, how much to fit (inches), yaw and pitch, and the cut.
function looks(scene) {
  const [low, high] = scene.frame;
  const middle = low.map((v, k) => (v + high[k]) / 2);
  const hand = scene.axis.sense;
  const cut = scene.plan.height;
  const whole = { target: [middle[0], middle[1] + 6, middle[2]], fit: 92, yaw: 28 * hand, pitch: 16, cut: UNCUT };
  const found = { whole };
  for (const view of scene.plan.views) {
    const at = [0, 1].map((k) => view.corner[k] + view.size[k] / 2);
    found[view.name] = {
      target: [hand * at[0], at[1], cut],
      fit: view.name === "contact" ? 2.2 : 6,
      yaw: 12 * (view.name === "strike" ? -hand : hand),
      pitch: 55,
      cut,
    };
  }
  return found;
}

// Returns { show, turn, lookAt, setCut, orbit, zoom, paint } or null without WebGL 2.
function slabView(canvas, colours) {
  const gl = canvas.getContext("webgl2", { alpha: false, antialias: true, stencil: true });
  if (!gl) return null;
  let faces;
  let edges;
  let rings;
  let drawn = null;
  let scene = null;
  let swing = null;
  let waiting = false;
  const eye = { target: [0, 0, 40], fit: 92, yaw: 28, pitch: 16, cut: UNCUT };

  function build() {
    faces = program(gl, FACE_VERTEX, FACE_FRAGMENT);
    edges = program(gl, EDGE_VERTEX, EDGE_FRAGMENT);
    rings = program(gl, RING_VERTEX, RING_FRAGMENT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    if (scene) load();
  }

  function buffer(data) {
    const made = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, made);
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(data), gl.STATIC_DRAW);
    return made;
  }

  // One array of vertices: attributes by name, each three floats at an offset.
  function vertices(shader, data, names, divisor) {
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    const bytes = buffer(data);
    names.forEach((name, k) => {
      const at = shader.attribute(name);
      gl.enableVertexAttribArray(at);
      gl.vertexAttribPointer(at, 3, gl.FLOAT, false, 12 * names.length, 12 * k);
      gl.vertexAttribDivisor(at, divisor);
    });
    return { array, bytes, count: data.length / (3 * names.length) };
  }

  function load() {
    if (drawn) {
      const both = [...drawn.parts, ...drawn.caps].flatMap((p) => [p.faces, p.edges]);
      for (const piece of [...both, drawn.pin, ...drawn.marks]) {
        gl.deleteVertexArray(piece.array);
        gl.deleteBuffer(piece.bytes);
      }
    }
    const hand = scene.axis.sense;
    drawn = {
      parts: scene.parts.map((part) => ({
        part,
        material: colours.materials[part.kind],
        faces: vertices(faces, faceData(part), ["place", "normal"], 0),
        edges: vertices(edges, edgeData(part), ["from", "to"], 1),
      })),
      caps: scene.plan.shapes
        .filter((shape) => !shape.beyond)
        .map((shape) => {
          const { fan, rim } = capData(shape, hand);
          return {
            part: shape,
            material: colours.materials[shape.kind],
            faces: vertices(faces, fan, ["place", "normal"], 0),
            edges: vertices(edges, rim, ["from", "to"], 1),
          };
        }),
      pin: vertices(edges, pinData(scene), ["from", "to"], 1),
      marks: scene.touches.flatMap((touch) => {
        const [x, y, z] = touch.point;
        const line = touch.span.flatMap((height) => [hand * x, y, height]);
        return [
          vertices(edges, line, ["from", "to"], 1),
          vertices(rings, [hand * x, y, z], ["place"], 0),
        ];
      }),
    };
  }

  function camera() {
    const [yaw, pitch] = [eye.yaw, eye.pitch].map((v) => (v * Math.PI) / 180);
    const back = [Math.sin(yaw) * Math.cos(pitch), Math.cos(yaw) * Math.cos(pitch), Math.sin(pitch)];
    const right = unit(cross([0, 0, 1], back));
    const up = cross(back, right);
    const half = Math.tan((14 * Math.PI) / 180);
    const aspect = canvas.width / canvas.height;
    const distance = eye.fit / 2 / half / Math.min(aspect * 1.35, 1);
    const place = eye.target.map((v, k) => v + back[k] * distance);
    const near = Math.max(distance - 140, distance / 40);
    const far = distance + 220;
    const axes = [right, up, back];
    const seen = [0, 1, 2].flatMap((k) => [right[k], up[k], back[k], 0]).concat(
      axes.map((a) => -dot(a, place)),
      1,
    );
    const lens = [
      1 / (half * aspect), 0, 0, 0,
      0, 1 / half, 0, 0,
      0, 0, -(far + near) / (far - near), -1,
      0, 0, (-2 * far * near) / (far - near), 0,
    ];
    return { matrix: times(lens, seen), look: [0, 1, 2].flatMap((k) => [right[k], up[k], back[k]]), right, up, distance };
  }

  function fit() {
    const scale = Math.min(window.devicePixelRatio || 1, 2);
    const [width, height] = [canvas.clientWidth, canvas.clientHeight].map((v) => Math.max(1, Math.round(v * scale)));
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    return scale;
  }

  function line(piece, model, ink, width, lift, cut) {
    gl.uniformMatrix4fv(edges.at("model"), false, model);
    gl.uniform3fv(edges.at("ink"), ink);
    gl.uniform1f(edges.at("width"), width);
    gl.uniform1f(edges.at("lift"), lift);
    gl.uniform1f(edges.at("cut"), cut);
    gl.bindVertexArray(piece.array);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, piece.count);
  }

  function paint() {
    waiting = false;
    if (!drawn || !swing || gl.isContextLost()) return;
    const scale = fit();
    const seen = camera();
    const cut = eye.cut;
    const angle = (scene.axis.sense * swing.degrees * Math.PI) / 180;
    const turn = turnAbout(scene.axis, angle);
    const lit = new Set(swing.parts);
    const loud = swing.state === "seat" ? colours.seat : colours.contact;
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(...rgb(colours.paper), 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);

    gl.useProgram(faces.made);
    gl.uniformMatrix4fv(faces.at("camera"), false, seen.matrix);
    gl.uniformMatrix3fv(faces.at("look"), false, seen.look);
    const colour = ({ part, material }) => {
      const glow = lit.has(part.name);
      gl.uniformMatrix4fv(faces.at("model"), false, part.moving ? turn : NO_TURN);
      gl.uniform3fv(faces.at("fill"), rgb(glow ? loud : material.fill));
      gl.uniform1f(faces.at("glow"), glow ? 0.5 : 0);
    };
    for (const each of drawn.parts) {
      colour(each);
      gl.uniform1f(faces.at("cut"), each.part.kind === "floor" ? UNCUT : cut);
      gl.bindVertexArray(each.faces.array);
      gl.drawArrays(gl.TRIANGLES, 0, each.faces.count);
    }
    if (cut < UNCUT) for (const each of drawn.caps) cap(each, colour);
    gl.useProgram(edges.made);
    gl.uniformMatrix4fv(edges.at("camera"), false, seen.matrix);
    gl.uniform2f(edges.at("screen"), canvas.width, canvas.height);
    const lift = 0.00006;
    for (const { part, edges: piece } of drawn.parts)
      line(piece, part.moving ? turn : NO_TURN, rgb(colours.ink), (part.kind === "floor" ? 0.6 : 1.2) * scale, lift, cut);
    if (cut < UNCUT)
      for (const { part, edges: piece } of drawn.caps)
        line(piece, part.moving ? turn : NO_TURN, rgb(colours.ink), 1.8 * scale, 2 * lift, UNCUT);
    line(drawn.pin, NO_TURN, rgb(colours.quiet), 1.4 * scale, lift, cut);
    if (swing.touch) mark(seen, loud, scale);
  }

  // A cut face: its fan first counted into the stencil, then painted where the count is odd.
  function cap(each, colour) {
    colour(each);
    gl.uniform1f(faces.at("cut"), UNCUT);
    gl.bindVertexArray(each.faces.array);
    gl.enable(gl.STENCIL_TEST);
    gl.disable(gl.DEPTH_TEST);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.stencilFunc(gl.ALWAYS, 0, 1);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.INVERT);
    gl.drawArrays(gl.TRIANGLES, 0, each.faces.count);
    gl.enable(gl.DEPTH_TEST);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.stencilFunc(gl.EQUAL, 1, 1);
    gl.stencilOp(gl.ZERO, gl.ZERO, gl.ZERO);
    gl.drawArrays(gl.TRIANGLES, 0, each.faces.count);
    gl.disable(gl.STENCIL_TEST);
  }

  // Where it touches, seen through the wood; in a cut, where the cut shows it.
  function mark(seen, loud, scale) {
    const { touch } = swing;
    const k = scene.touches.indexOf(touch);
    const shown = eye.cut < UNCUT && touch.span[0] <= eye.cut && eye.cut <= touch.span[1];
    gl.disable(gl.DEPTH_TEST);
    line(drawn.marks[2 * k], NO_TURN, rgb(loud), 3 * scale, 0, shown ? eye.cut : UNCUT);
    gl.useProgram(rings.made);
    gl.uniformMatrix4fv(rings.at("camera"), false, seen.matrix);
    gl.uniform1f(rings.at("size"), 26 * scale);
    gl.uniform1f(rings.at("height"), shown ? eye.cut : touch.point[2]);
    gl.uniform3fv(rings.at("ink"), rgb(loud));
    gl.uniform3fv(rings.at("paper"), rgb(colours.paper));
    gl.bindVertexArray(drawn.marks[2 * k + 1].array);
    gl.drawArrays(gl.POINTS, 0, 1);
    gl.enable(gl.DEPTH_TEST);
  }

  function redraw() {
    if (!waiting) requestAnimationFrame(paint);
    waiting = true;
  }

  function orbit(across, down) {
    eye.yaw -= across;
    eye.pitch = Math.min(89, Math.max(-60, eye.pitch + down));
    redraw();
  }

  function zoom(share) {
    eye.fit = Math.min(260, Math.max(0.8, eye.fit * share));
    redraw();
  }

  function pan(across, down) {
    const { right, up } = camera();
    const inches = eye.fit / canvas.clientHeight;
    eye.target = eye.target.map((v, k) => v - right[k] * across * inches + up[k] * down * inches);
    redraw();
  }

  canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  canvas.addEventListener("webglcontextrestored", () => {
    drawn = null;
    build();
    redraw();
  });
  build();
  if (window.ResizeObserver) new ResizeObserver(redraw).observe(canvas);
  handle(canvas, { orbit, zoom, pan });
  return {
    show(next, keep) {
      scene = next;
      load();
      if (!keep) Object.assign(eye, looks(scene).whole);
      redraw();
    },
    turn(next) {
      swing = next;
      redraw();
    },
    lookAt(name) {
      Object.assign(eye, looks(scene)[name] || looks(scene).whole);
      redraw();
      return eye.cut < UNCUT;
    },
    setCut(on) {
      eye.cut = on ? scene.plan.height : UNCUT;
      redraw();
    },
    orbit,
    zoom,
    paint,
  };
}

// Fingers, mouse and keys on the view: turn it, bring it nearer, move it.
function handle(canvas, { orbit, zoom, pan }) {
  const held = new Map();
  const span = () => {
    const [a, b] = [...held.values()];
    return { apart: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  };
  const drop = (event) => held.delete(event.pointerId);
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  canvas.addEventListener("pointerup", drop);
  canvas.addEventListener("pointercancel", drop);
  canvas.addEventListener("pointermove", (event) => {
    const was = held.get(event.pointerId);
    if (!was) return;
    const before = held.size === 2 ? span() : null;
    const [across, down] = [event.clientX - was.x, event.clientY - was.y];
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (before) {
      const after = span();
      if (after.apart > 0) zoom(before.apart / after.apart);
      pan(after.x - before.x, after.y - before.y);
    } else if (event.shiftKey || event.buttons === 2) pan(across, down);
    else orbit(across * 0.4, down * 0.4);
  });
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener(
    "wheel",
    (event) => {
      if (document.activeElement !== canvas && !event.ctrlKey) return;
      event.preventDefault();
      zoom(Math.exp(event.deltaY * 0.0015));
    },
    { passive: false },
  );
  canvas.addEventListener("keydown", (event) => {
    const acts = {
      ArrowLeft: () => orbit(-6, 0),
      ArrowRight: () => orbit(6, 0),
      ArrowUp: () => orbit(0, 6),
      ArrowDown: () => orbit(0, -6),
      "+": () => zoom(0.85),
      "=": () => zoom(0.85),
      "-": () => zoom(1 / 0.85),
    };
    if (!acts[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    acts[event.key]();
  });
}
