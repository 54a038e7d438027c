import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import {
  readSoundFile,
  type ReadSoundFileOptions,
} from "../../src/recording/files/read-sound-file.js";

const folder = mkdtempSync(join(tmpdir(), "washer-noise-ffmpeg-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const place = (name: string, content: string, mode = 0o644): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  chmodSync(path, mode);
  return path;
};

async function refusal(path: string, options: ReadSoundFileOptions): Promise<WasherNoiseError> {
  const error: unknown = await readSoundFile(path, options).catch((reason: unknown) => reason);
  expect(error).toBeInstanceOf(WasherNoiseError);
  return error as WasherNoiseError;
}

// A stand-in that writes down how it was called, one argument a line.
const told = join(folder, "told");
const standIn = place("stand-in", `#!/bin/sh\nprintf '%s\\n' "$@" > '${told}'\nexit 1\n`, 0o755);
const endless = place("endless", "#!/bin/sh\nexec sleep 60\n", 0o755);

describe("ffmpeg", () => {
  it("is started without a shell, for one local file behind `file:`, with local protocols only", async () => {
    const path = place("a.amr; touch owned; $(touch owned) `touch owned`", "#!AMR\n");
    await refusal(path, { ffmpegCommand: standIn });
    const args = readFileSync(told, "utf8").split("\n");
    const after = (option: string): string => args[args.indexOf(option) + 1]!;
    expect(args).toContain("-nostdin");
    expect(after("-protocol_whitelist")).toBe("file,pipe");
    expect(after("-format_whitelist").split(",")).not.toEqual(
      expect.arrayContaining([expect.stringMatching(/^(hls|concat|dash|sdp|rtsp|image2|lavfi)$/)]),
    );
    // The whole name, as one argument that cannot be taken for an option.
    expect(after("-i")).toBe(`file:${path}`);
    expect(existsSync(join(folder, "owned"))).toBe(false);
    expect(existsSync("owned")).toBe(false);
  });

  it("is ended when its time is over, with an error that states the limit", async () => {
    const begun = performance.now();
    const path = place("slow.amr", "#!AMR\n");
    const error = await refusal(path, { ffmpegCommand: endless, ffmpegSeconds: 0.3 });
    expect(performance.now() - begun).toBeLessThan(5000);
    expect(error.code).toBe("recording-damaged");
    expect(error.message).toContain("0.3 s");
  });

  it.each([
    ["HLS", "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\nfile:///etc/passwd\n#EXT-X-ENDLIST\n"],
    ["concat", "ffconcat version 1.0\nfile '/etc/passwd'\n"],
    ["SDP", "v=0\no=- 0 0 IN IP4 127.0.0.1\nc=IN IP4 127.0.0.1\nm=audio 5004 RTP/AVP 0\n"],
  ])("never sees a play list: %s is refused as text", async (_, content) => {
    rmSync(told, { force: true });
    const error = await refusal(place("list.m4a", content), { ffmpegCommand: standIn });
    expect(error.code).toBe("not-audio");
    expect(existsSync(told)).toBe(false);
  });
});
