// SPDX-License-Identifier: Apache-2.0
// Totals of best assignments by the npm package munkres: reads a JSON list of gain matrices, prints a JSON list
// of sums. It looks for the least cost, so what is missing to the largest gain is the cost.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";

const require = createRequire(process.argv[2] + "/");
const { munkres, default: fallback } = await import(pathToFileURL(require.resolve("munkres")).href);
const solve = munkres ?? fallback;
const totals = JSON.parse(readFileSync(process.argv[3], "utf8")).map((gain) => {
  const most = Math.max(...gain.flat());
  return solve(gain.map((row) => row.map((one) => most - one))).reduce((sum, [row, column]) => sum + gain[row][column], 0);
});
console.log(JSON.stringify(totals));
