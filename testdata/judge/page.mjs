#!/usr/bin/env node
// page.mjs FILE.html FOLDER: opens a page in Chromium without a screen and
// prints, as one JSON line, what it says on the console, what it asks the network
// for, what axe-core finds wrong at two widths, and how many sheets of paper it
// takes. The PDFs a4.pdf and letter.pdf and the pictures desk.png and phone.png
// go to FOLDER. It stands beside the node_modules with puppeteer-core and axe-core.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const [file, folder] = process.argv.slice(2);
const url = pathToFileURL(file).href;

const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--force-color-profile=srgb"],
});
const said = [];
const requests = [];
const watch = (page) => {
  page.on("console", (m) => said.push(`${m.type()}: ${m.text()}`));
  page.on("pageerror", (e) => said.push(`error: ${e}`));
  page.on("request", (r) => r.url() !== url && !r.url().startsWith("data:") && requests.push(r.url()));
};

// As its reader gets it, without script.
const plain = await browser.newPage();
watch(plain);
await plain.setJavaScriptEnabled(false);
await plain.goto(url, { waitUntil: "load" });
const broken = await plain.$$eval("img", (all) => all.filter((i) => !(i.complete && i.naturalWidth > 0)).map((i) => i.alt));
const sheets = {};
for (const [name, format] of [["a4", "A4"], ["letter", "Letter"]]) {
  const pdf = await plain.pdf({ format, preferCSSPageSize: false, printBackground: false });
  writeFileSync(join(folder, `${name}.pdf`), pdf);
  sheets[name] = (Buffer.from(pdf).toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}
await plain.close();

// As the checker needs it: its script may pass the page's own policy.
const violations = [];
let checks = 0;
const overflow = [];
for (const [name, width] of [["desk", 1280], ["phone", 390]]) {
  const page = await browser.newPage();
  watch(page);
  await page.setBypassCSP(true);
  await page.setViewport({ width, height: 900 });
  await page.goto(url, { waitUntil: "load" });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  if (wide > width) overflow.push(`${name}: ${wide} px on a screen of ${width}`);
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run());
  checks += found.passes.length;
  for (const v of found.violations) {
    for (const n of v.nodes) violations.push(`${name}: ${v.id} (${v.impact}): ${v.help}: ${n.html.slice(0, 200)}`);
  }
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
  await page.close();
}
await browser.close();
process.stdout.write(JSON.stringify({ console: said, requests, violations, checks, overflow, broken, sheets }) + "\n");
