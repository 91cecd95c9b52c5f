// exact.mjs OUT.stl: the reference tray by exact booleans of tessellated
// primitives (Manifold). Prints seconds, peak memory and triangles, writes the mesh.
import { writeFileSync } from 'node:fs'
import { performance } from 'node:perf_hooks'
import Module from 'manifold-3d'

const wasm = await Module()
wasm.setup()
const { Manifold } = wasm

// Sides of a full circle: the sag of a chord, r (1 - cos(pi/n)), is at most 0.0026 mm.
const ROUND = 108, LEAN = 48, BORE = 36
const DRAFT = (3 * Math.PI) / 180

// roundedBox has all edges rounded to r; it is the hull of eight balls.
function roundedBox(hx, hy, z0, z1, r) {
  const ball = Manifold.sphere(r, ROUND)
  const balls = []
  for (const x of [r - hx, hx - r])
    for (const y of [r - hy, hy - r])
      for (const z of [z0 + r, z1 - r]) balls.push(ball.translate([x, y, z]))
  return Manifold.hull(balls)
}

// boss leans in; its plan, a rectangle with rounded corners, is drawn at the height foot.
function boss(x, y, z0, foot, z1) {
  const r = (z) => 5 - (z - foot) * Math.tan(DRAFT)
  const corner = Manifold.cylinder(z1 - z0, r(z0), r(z1), LEAN)
  const corners = []
  for (const u of [-17, 17]) for (const v of [-12, 12]) corners.push(corner.translate([x + u, y + v, z0]))
  return Manifold.hull(corners)
}

function tray() {
  const outer = roundedBox(100, 75, 0, 60, 6).trimByPlane([0, 0, -1], -50)
  let all = outer.subtract(roundedBox(94, 69, 6, 70, 4))
  for (const x of [-60, 60]) for (const y of [-35, 35]) all = all.add(boss(x, y, 5, 6, 30))
  const bore = Manifold.cylinder(8, 0.5, 0.5, BORE)
  const at = [[-85, 0], [-30, 0], [0, 0], [30, 0], [85, 0], [0, 30], [0, -30], [0, 60], [0, -60], [-85, 55], [85, 55], [85, -55]]
  return all.subtract(Manifold.union(at.map(([x, y]) => bore.translate([x, y, -1]))))
}

const before = process.cpuUsage()
const start = performance.now()
const solid = tray()
const mesh = solid.getMesh()
const seconds = (performance.now() - start) / 1000
const cpu = process.cpuUsage(before)
const peak = process.resourceUsage().maxRSS / 1024
console.log(JSON.stringify({ what: 'tray, exact booleans', seconds, cpu: (cpu.user + cpu.system) / 1e6, megabytes: peak, triangles: mesh.numTri, genus: solid.genus() }))

const out = Buffer.alloc(84 + 50 * mesh.numTri)
out.writeUInt32LE(mesh.numTri, 80)
for (let t = 0; t < mesh.numTri; t++)
  for (let k = 0; k < 3; k++) {
    const v = mesh.triVerts[3 * t + k]
    for (let c = 0; c < 3; c++) out.writeFloatLE(mesh.vertProperties[mesh.numProp * v + c], 84 + 50 * t + 12 + 12 * k + 4 * c)
  }
writeFileSync(process.argv[2], out)
