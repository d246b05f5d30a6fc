/** The shipped plans as devices read them, by the office's own reader: asked once for all tests, or by a test alone. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import "../../web/job/list_sentences.ts"; // as on a device once it is paired

const root = new URL("../../", import.meta.url);

const asked = () =>
  execFileSync(process.env.PYTHON ?? "python3", ["-m", "intake.examination.plans", "--json"], {
    cwd: root,
    encoding: "utf-8",
    maxBuffer: 1 << 26,
  });

export const book = JSON.parse(
  process.env.INTAKE_PLANS_JSON ? readFileSync(process.env.INTAKE_PLANS_JSON, "utf-8") : asked(),
);
