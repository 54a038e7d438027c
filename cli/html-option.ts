import type { Command } from "commander";

/** `--html FILE` and `--no-audio`, for commands whose report can be listened to. */
export const addHtmlOptions = (command: Command): Command =>
  addHtmlOption(command).option("--no-audio", "leave the clips to listen to out of the report");

/** `--html FILE` alone. */
export const addHtmlOption = (command: Command): Command =>
  command.option(
    "--html <file>",
    "also write a report: one file to open in a browser, mail or print",
  );
