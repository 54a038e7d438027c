import { fileURLToPath } from "node:url";

/** Folder of the project, as a path: blanks and umlauts in it are not written as in an address. */
export const root = fileURLToPath(new URL("..", import.meta.url));
