import { parentPort } from "node:worker_threads";
import type { ClipTask } from "./clip-task.js";
import { triageClip } from "./triage-clip.js";

// One recording at a time; the pool sends the next when the row has come back.
parentPort?.on("message", (task: ClipTask) => {
  void triageClip(task).then((row) => {
    parentPort?.postMessage(row);
  });
});
