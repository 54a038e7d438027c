import type { ByteSource } from "./byte-source.js";
import { openPacketTrack, type ContainerKind } from "./packet-track.js";
import type { PcmStream } from "./pcm-stream.js";
import { unsupported } from "./refusal.js";

const plainNames: Readonly<Record<string, string>> = {
  samr: "AMR, amr-nb",
  sawb: "AMR, amr-wb",
  alac: "ALAC",
  ac3: "AC-3",
  eac3: "E-AC-3",
};

/** Opens the sound of an mp4, mov, 3gp, ADTS, Ogg, WebM or Matroska file. Throws as `openPacketTrack`. */
export async function openContainer(source: ByteSource, kind: ContainerKind): Promise<PcmStream> {
  const track = await openPacketTrack(source, kind);
  switch (track.codec) {
    case "aac":
      return (await import("./aac/aac-stream.js")).openAac(source.name, track);
    case "opus":
      return (await import("./opus-stream.js")).openOpus(source.name, track);
    case "vorbis":
      return (await import("./vorbis/vorbis-stream.js")).openVorbis(source.name, track);
    default:
      throw unsupported(
        source.name,
        `${track.container}, ${plainNames[track.codec] ?? track.codec}`,
      );
  }
}
