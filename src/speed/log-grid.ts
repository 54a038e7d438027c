/** Even grid of ln frequency; grids of one clip share their step so that a ratio is a shift. */
export interface LogGrid {
  /** Number of the first cell: cell i lies at e^((first + i) * LOG_STEP) Hz. */
  readonly first: number;
  readonly count: number;
}

/** Step of ln frequency of the coarse search: 0.7 %. */
export const LOG_STEP = 0.007;

export function logGrid(lowHz: number, highHz: number): LogGrid {
  const first = Math.floor(Math.log(lowHz) / LOG_STEP);
  return { first, count: Math.ceil(Math.log(highHz) / LOG_STEP) - first + 1 };
}

export const cellHz = (grid: LogGrid, cell: number): number =>
  Math.exp((grid.first + cell) * LOG_STEP);
