// Fill a form with pdf.js, save it, and draw its pages: node pdfjs.mjs IN.pdf ANSWERS.json OUT.pdf [PICTURES]
// Says on its output, as JSON, every field that it sees: page, name, text for a screen reader, rectangle, value.
import { readFile, writeFile } from "node:fs/promises";
import { createCanvas } from "@napi-rs/canvas";
import { AnnotationMode, getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

const [source, answers, target, pictures] = process.argv.slice(2);
const DPI = 100;
const left = JSON.parse(await readFile(answers, "utf8"));
const fonts = new URL("node_modules/pdfjs-dist/standard_fonts/", import.meta.url).pathname;
const document = await getDocument({
  data: new Uint8Array(await readFile(source)), standardFontDataUrl: fonts, verbosity: 0, isEvalSupported: false,
}).promise;

const seen = [];
for (let number = 1; number <= document.numPages; number += 1) {
  const page = await document.getPage(number);
  for (const field of await page.getAnnotations({ intent: "display" })) {
    if (!field.fieldName) continue;
    seen.push({ page: number, name: field.fieldName, text: field.alternativeText, rect: field.rect,
                value: field.fieldValue });
    if (!(field.fieldName in left)) continue;
    const value = left[field.fieldName];
    document.annotationStorage.setValue(field.id, { value: field.checkBox ? value !== "" : value });
    delete left[field.fieldName];
  }
}
if (Object.keys(left).length) throw new Error(`no such fields: ${Object.keys(left)}`);
await writeFile(target, await document.saveDocument());
if (pictures) {
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const viewport = page.getViewport({ scale: DPI / 72 });
    const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
    await page.render({ canvasContext: canvas.getContext("2d"), viewport, annotationMode: AnnotationMode.ENABLE_STORAGE,
                        intent: "print", printAnnotationStorage: document.annotationStorage.print }).promise;
    await writeFile(`${pictures}/${number}.png`, await canvas.encode("png"));
  }
}
process.stdout.write(JSON.stringify(seen));
