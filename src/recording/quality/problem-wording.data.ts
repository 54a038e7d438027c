/** Sentences for a technician. `{…}` are filled in; see problems.ts. */
export const PROBLEM_WORDING = {
  "too-short":
    "Only {seconds} s of the recording can be used; record 20 s or more without stopping, or a whole spin from standstill to full speed.",
  "nothing-usable":
    "Nothing of the recording can be used; record 20 s or more without stopping, or a whole spin from standstill to full speed.",
  silent:
    "No machine is heard in {share} % of the recording; start it when the machine makes the noise, with the phone 30 to 50 cm from where the noise is loudest.",
  "silent-all":
    "The recording is silent; check that the microphone is not covered and that the app may use it, then record 20 s of the noise.",
  clipped:
    "The sound is cut off at its peaks ({share} % of it); move the phone further away or off the machine, so that knocks do not overload it.",
  "gain-pumping":
    "The phone turns its gain down after loud sounds, so slow changes of loudness mean nothing; use a recording app without automatic gain, or the video camera, and send the file as a document.",
  "noise-suppressed":
    "Steady noise has been removed by the phone or an app, so a missing roar or hiss proves nothing; turn noise reduction or voice isolation off and do not record during a call.",
  speech:
    "Someone speaks or a voice-like sound is heard in {share} % of the recording and those parts are left out; keep quiet while recording, with radio and television off.",
  handling:
    "The phone was touched, moved or in the wind, and those moments ({count}) are left out; lay it on a folded towel beside the machine and start and stop it gently.",
  "narrow-band":
    "The recording only carries {low} to {high} Hz, so noise outside cannot be judged; record in the highest quality and send the file itself, not a voice message or a call.",
  "low-sample-rate":
    "At {rate} samples per second only pump and knocking noises can be judged; set the recorder to 44 100 or 48 000 Hz.",
  spliced:
    "The recording seems cut together at {time} s; send it as recorded, and each run of the machine as a file of its own.",
  damaged:
    "Parts of the file hold no sound but gaps or errors ({count}) and are left out; copy or send the file again, as a document.",
  "lossy-codec":
    "The recording is coded for speech ({codec}), which reshapes steady noise; use the recorder or camera app in its highest quality instead of a voice message or a call.",
  "treble-rebuilt":
    "The sound above 5 kHz was rebuilt by the codec ({codec}) and is not judged; record in a higher quality.",
  "channel-dead":
    "One channel of the recording is empty and the other is used; check that no finger or case covers a microphone.",
  "channels-disagree":
    "The channels of the recording carry different sound and the better one is used; record in mono or keep the case off the microphones.",
} as const;

export type WordingKey = keyof typeof PROBLEM_WORDING;
