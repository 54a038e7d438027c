export function unfoldAndMeasure(): { scrolled: number; visible: number };
export function measureLook(): {
  maxWidth: string;
  figures: number;
  wide: number;
  narrow: number;
  smallestText: number;
};
export function findSeriousFaults(): Promise<string[]>;
export function lookAtPrint(): {
  heading: boolean;
  contents: boolean;
  pictures: boolean;
  overflow: number;
};
export function readHostile(): { ran: boolean; scripts: number; images: number; text: string };
export function whereIsFocus(): { tag: string; outline: string };
export function isUnfolded(): boolean;
export function decodeClips(): Promise<number[]>;
