// Solves integer programs, for the tests of the packing alone: one in CPLEX LP
// format as a JSON string on each line in, the status and the objective on each
// line out. The solver is the npm package named by the first argument; it is
// loaded afresh for each, because it does not survive many.
"use strict";

const load = require(process.argv[2]);

(async () => {
  for await (const line of require("readline").createInterface({ input: process.stdin })) {
    const { Status, ObjectiveValue } = (await load()).solve(JSON.parse(line), { mip_rel_gap: 0, mip_abs_gap: 0 });
    console.log(JSON.stringify({ status: Status, objective: ObjectiveValue }));
  }
})();
