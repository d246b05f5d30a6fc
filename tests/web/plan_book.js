/** The shipped plans as devices read them, asked of the office's own reader. */
import { execFileSync } from "node:child_process";

const root = new URL("../../", import.meta.url);

export const book = JSON.parse(
  execFileSync(process.env.PYTHON ?? "python3", ["-m", "intake.examination.plans", "--json"], {
    cwd: root,
    encoding: "utf-8",
    maxBuffer: 1 << 26,
  }),
);
