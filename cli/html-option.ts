import type { Command } from "commander";
import { z } from "zod";

/** `--html FILE` and `--no-audio`, for commands whose report can be listened to. */
export const addHtmlOptions = (command: Command): Command =>
  addHtmlOption(command).option("--no-audio", "leave the clips to listen to out of the report");

/** `--html FILE` alone. */
export const addHtmlOption = (command: Command): Command =>
  command.option(
    "--html <file>",
    "also write a report: one file to open in a browser, mail or print",
  );

export const htmlOptionSchema = z.object({
  html: z
    .string()
    .regex(/\.html?$/i, {
      // A recording named by mistake would be overwritten.
      error: ({ input }) =>
        `--html must name a file that ends in .html, received "${String(input)}".`,
    })
    .optional(),
});

export const htmlOptionsSchema = htmlOptionSchema.extend({ audio: z.boolean().default(true) });

export type HtmlOptions = z.infer<typeof htmlOptionsSchema>;
