// Runs the program a second time, away from the page, where it works out plans and nothing else.
// What is said between the two stands in the app's `shell::planner`.

import start from "/app.js";

await start({ module_or_path: "/app.wasm" });
