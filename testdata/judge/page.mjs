// page FILE.html FOLDER: opens a page in Chromium without a screen and prints,
// as one JSON line, what it says on the console, what it asks the network for,
// what axe-core finds, and how many sheets it prints on; the PDFs a4.pdf and
// letter.pdf go to FOLDER. Needs puppeteer-core and axe-core in NODE_PATH.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { join } from "node:path";
import { readFileSync, writeFileSync } from "node:fs";

const modules = createRequire(join(process.env.NODE_PATH, "/"));
const puppeteer = modules("puppeteer-core");
const axe = readFileSync(modules.resolve("axe-core/axe.min.js"), "utf8");
const [file, folder] = process.argv.slice(2);
const url = pathToFileURL(file).href;

const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--force-color-profile=srgb"],
});
const console = [];
const requests = [];
const watch = (page) => {
  page.on("console", (m) => console.push(`${m.type()}: ${m.text()}`));
  page.on("pageerror", (e) => console.push(`error: ${e}`));
  page.on("request", (r) => r.url() !== url && !r.url().startsWith("data:") && requests.push(r.url()));
};

// As its reader gets it, without script.
const plain = await browser.newPage();
watch(plain);
await plain.setJavaScriptEnabled(false);
await plain.goto(url, { waitUntil: "load" });
const sheets = {};
for (const [name, format] of [["a4", "A4"], ["letter", "Letter"]]) {
  const pdf = await plain.pdf({ format, preferCSSPageSize: false, printBackground: false });
  writeFileSync(join(folder, `${name}.pdf`), pdf);
  sheets[name] = (Buffer.from(pdf).toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}
await plain.close();

// As the checker needs it: its script may pass the page's own policy.
const asked = {};
const violations = [];
for (const [name, width] of [["desk", 1280], ["phone", 390]]) {
  const page = await browser.newPage();
  watch(page);
  await page.setBypassCSP(true);
  await page.setViewport({ width, height: 900 });
  await page.goto(url, { waitUntil: "load" });
  asked[name] = await page.evaluate(() => document.documentElement.scrollWidth);
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run());
  for (const v of found.violations) {
    for (const n of v.nodes) violations.push(`${name}: ${v.id} (${v.impact}): ${v.help}: ${n.html.slice(0, 200)}`);
  }
  asked[name + "Checks"] = found.passes.length;
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
  await page.close();
}
await browser.close();
process.stdout.write(JSON.stringify({ console, requests, violations, sheets, width: { desk: asked.desk, phone: asked.phone }, checks: asked.deskChecks }) + "\n");
