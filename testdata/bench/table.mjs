// table.mjs NUMBERS.json: the runs of one comparison as a table, with ratios.
import { readFileSync } from 'node:fs'

const [exact, field, tray, bodyField, body] = readFileSync(process.argv[2], 'utf8').trim().split('\n').map((l) => JSON.parse(l))
const row = (r) => console.log(`${r.what.padEnd(44)} ${r.seconds.toFixed(2).padStart(8)} ${r.cpu.toFixed(2).padStart(8)} ${r.megabytes.toFixed(0).padStart(6)} ${String(r.triangles).padStart(9)}`)
console.log(`${''.padEnd(44)} ${'s'.padStart(8)} ${'cpu s'.padStart(8)} ${'MB'.padStart(6)} ${'triangles'.padStart(9)}`)
for (const r of [exact, field, tray, bodyField, body]) row(r)
const ratio = (what, a, b, want) => console.log(`${what}: ${(a.seconds / b.seconds).toFixed(2)} of the time, ${(a.cpu / b.cpu).toFixed(2)} of the processor time; wanted at most ${want}`)
ratio('tray, ours to the sampled field', tray, field, '0.33')
ratio('tray, ours to exact booleans', tray, exact, '6')
ratio('body, ours to the sampled field', body, bodyField, '0.6')
console.log(`peak memory of ours: ${tray.megabytes.toFixed(0)} MB tray, ${body.megabytes.toFixed(0)} MB body; wanted at most 400 for the tray`)
