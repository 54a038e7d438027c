import type { PcmBlock } from "./pcm-stream.js";

/** Leaves out the first `count` frames of a recording, which an encoder put there to start up. */
export async function* withoutFirst(
  blocks: AsyncIterable<PcmBlock>,
  count: number,
): AsyncGenerator<PcmBlock> {
  let left = count;
  for await (const block of blocks) {
    const length = block[0]!.length;
    const cut = Math.min(left, length);
    left -= cut;
    if (cut === length) continue;
    yield cut === 0 ? block : block.map((channel) => channel.subarray(cut));
  }
}
