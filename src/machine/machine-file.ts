import { showControls } from "../foundation/show-controls.js";
import type { BallSet } from "./bearings.data.js";
import { machineFileError, schemaError } from "./machine-file-error.js";
import {
  ratioOfPulleys,
  toldBearings,
  toldBelt,
  toldChoice,
  toldSpan,
} from "./machine-file-parts.js";
import { machineFileSchema, type MachineFile, type SpanEntry } from "./machine-file-schema.js";
import { canBeAssembled, ringHeldReduction } from "./planetary.js";
import type { MachineProfile, MotorProfile, PlanetaryProfile, Span, Washer } from "./profile.js";
import { washerById } from "./washers.js";

/** A ratio told and the pulleys told may differ by this share: effective diameters and creep. */
const RATIO_AGREES = 0.05;
/** Profile shift lets a ring be this many teeth off sun + 2 planet. */
const SHIFTED_TEETH = 3;

/** Fields that only make sense on some machines, and what such a machine must have. */
function refuseMisplaced(file: MachineFile, base: MachineProfile, name: string): void {
  const rules: readonly [field: string, given: unknown, fits: boolean, needs: string][] = [
    ["belt", file.belt, base.belt !== null, "a machine with a belt"],
    ["gears", file.gears, base.planetary !== null, "a machine with a planetary reducer"],
    [
      "pinionTeeth",
      file.pinionTeeth,
      base.components.includes("gear-case") && base.planetary === null,
      "an older gear case",
    ],
    ["tumbleRpm", file.tumbleRpm, base.tumbleRpm !== null, "a front loader"],
    ["strokesPerMinute", file.strokesPerMinute, base.strokesPerMinute !== null, "a top loader"],
    ["lifters", file.lifters, base.axis === "horizontal", "a front loader"],
    ["motorToDrum", file.motorToDrum, base.drive !== "direct", "a motor off the drum shaft"],
    [
      "motorBearings",
      file.motorBearings,
      base.motor.bearings !== null,
      "a motor off the drum shaft",
    ],
    ["carrierHz", file.carrierHz, base.carrierHz !== null, "a motor on an inverter"],
  ];
  for (const [field, given, fits, needs] of rules) {
    if (given === undefined || fits) continue;
    throw machineFileError(name, `${field} needs ${needs}, but it is like ${base.id}.`, { field });
  }
}

function toldRatio(file: MachineFile, base: MachineProfile, name: string): Span {
  const pulleys = ratioOfPulleys(file.belt, name);
  if (file.motorToDrum === undefined) return pulleys ?? base.motorToDrum;
  const direct = toldSpan(file.motorToDrum, name, 0.01);
  if (pulleys !== null && Math.abs(direct.typical / pulleys.typical - 1) > RATIO_AGREES) {
    throw machineFileError(
      name,
      `motorToDrum must agree with the pulleys, which give ${pulleys.typical.toFixed(2)}, ` +
        `received ${direct.typical}.`,
      { field: "motorToDrum" },
    );
  }
  return direct;
}

function toldPlanetary(
  file: MachineFile,
  base: MachineProfile,
  name: string,
): PlanetaryProfile | null {
  const { gears } = file;
  if (gears === undefined) return base.planetary;
  const standard = gears.sun + 2 * gears.planet;
  if (Math.abs(gears.ring - standard) > SHIFTED_TEETH) {
    throw machineFileError(
      name,
      `gears.ring must be sun + 2 planet = ${standard}, give or take ${SHIFTED_TEETH} for shifted ` +
        `teeth, received ${gears.ring}.`,
      { field: "gears.ring" },
    );
  }
  if (!canBeAssembled(gears)) {
    throw machineFileError(
      name,
      `gears.planets must divide sun + ring = ${gears.sun + gears.ring}, received ${gears.planets}.`,
      { field: "gears.planets" },
    );
  }
  return { sets: [gears], reduction: toldSpan(ringHeldReduction(gears), name) };
}

/** Slot and pole pairs left over by what was told. */
function toldPairs(
  file: MachineFile,
  base: MotorProfile,
  name: string,
): MotorProfile["slotPolePairs"] {
  const { slots, poles } = file.motor ?? {};
  if (base.slotPolePairs.length === 0) return [];
  if (slots !== undefined && poles !== undefined) return [[slots, poles]];
  const left = base.slotPolePairs.filter(
    ([s, p]) => (slots === undefined || s === slots) && (poles === undefined || p === poles),
  );
  if (left.length > 0) return left;
  throw machineFileError(
    name,
    "motor must give both slots and poles, since no usual pair has " +
      `${slots === undefined ? `${poles} poles` : `${slots} slots`}.`,
    { field: "motor" },
  );
}

function toldMotor(file: MachineFile, base: MotorProfile, name: string): MotorProfile {
  const { poles, slots, bars } = file.motor ?? {};
  if (poles !== undefined && poles % 2 !== 0) {
    throw machineFileError(name, `motor.poles must be even, received ${poles}.`, {
      field: "motor.poles",
    });
  }
  if (bars !== undefined && base.kind.startsWith("permanent-magnet")) {
    throw machineFileError(name, "motor.bars needs a brushed or induction motor.", {
      field: "motor.bars",
    });
  }
  return {
    ...base,
    poles: poles === undefined ? base.poles : toldChoice(poles, name),
    slots: slots === undefined ? base.slots : toldChoice(slots, name),
    bars: bars === undefined ? base.bars : toldChoice(bars, name),
    slotPolePairs: toldPairs(file, base, name),
  };
}

/** `make` of what was told, or what is usual when nothing was. */
const toldOr = <T, U>(value: T | undefined, make: (value: T) => U, usual: U): U =>
  value === undefined ? usual : make(value);

/** Speeds told; those that the machine does not have were refused before. */
function toldSpeeds(file: MachineFile, base: MachineProfile, name: string) {
  const span = (entry: SpanEntry): Span => toldSpan(entry, name);
  return {
    spinRpm: toldOr(file.spinRpm, span, base.spinRpm),
    tumbleRpm: toldOr(file.tumbleRpm, span, base.tumbleRpm),
    strokesPerMinute: toldOr(file.strokesPerMinute, span, base.strokesPerMinute),
    carrierHz: toldOr(file.carrierHz, span, base.carrierHz),
  };
}

function toldDrive(file: MachineFile, base: MachineProfile, name: string) {
  const motorToDrum = toldRatio(file, base, name);
  // The same pulleys drive the agitator.
  const both = motorToDrum !== base.motorToDrum && base.motorToAgitatorInput !== null;
  return {
    motorToDrum,
    motorToAgitatorInput: both ? motorToDrum : base.motorToAgitatorInput,
    belt: base.belt && toldBelt(file.belt ?? {}, base.belt, name),
    planetary: toldPlanetary(file, base, name),
    pinionTeeth: toldOr(file.pinionTeeth, (teeth) => toldChoice(teeth, name), base.pinionTeeth),
  };
}

function toldMotorAndBearings(file: MachineFile, base: MachineProfile, name: string) {
  const drum = file.drumBearings && toldBearings(file.drumBearings, "drumBearings", name);
  const motor = file.motorBearings && toldBearings(file.motorBearings, "motorBearings", name);
  const names = (rows: readonly BallSet[]): string[] => rows.map((row) => row.designation);
  return {
    motor: {
      ...toldMotor(file, base.motor, name),
      bearings: toldOr(motor, names, base.motor.bearings),
    },
    drumBearings: toldOr(drum, names, base.drumBearings),
    ownBearings: [...(drum ?? []), ...(motor ?? [])],
    drumBearingsKnown: drum !== undefined,
    motorBearingsKnown: motor !== undefined,
  };
}

/** Built-in profile with everything told put in its place. */
function profileFrom(file: MachineFile, name: string): MachineProfile {
  const base = washerById(file.like).profiles[0]!;
  refuseMisplaced(file, base, name);
  const called = showControls(file.name ?? name);
  return {
    ...base,
    id: called,
    label: `${called} (${base.label})`,
    ...toldSpeeds(file, base, name),
    ...toldDrive(file, base, name),
    ...toldMotorAndBearings(file, base, name),
    usualLineHz: file.lineHz ?? base.usualLineHz,
    pumpVanes: toldOr(file.pumpVanes, (vanes) => toldChoice(vanes, name), base.pumpVanes),
    lifters: file.lifters ?? base.lifters,
  };
}

/**
 * The washer that a user's machine file describes.
 *
 * `json` is the parsed file: `like` names the built-in profile it starts from, every other field
 * replaces what is usual (see docs/machines.md); `name` is how the file is called in messages. Both
 * pulleys give the drive ratio with 0-2 % creep; pulleys and belt length give belt rate and free span.
 * Throws `machine-file-invalid` with the field's path, what it must be and what was received: wrong
 * types and ranges, unknown fields, fields that such a machine cannot have, and sizes that contradict
 * each other (a belt too short for its pulleys, gears that cannot be assembled, a ratio that the
 * pulleys do not give, a bearing table row that is not one of a bearing).
 */
export function parseMachineFile(json: unknown, name: string): Washer {
  const result = machineFileSchema.safeParse(json);
  if (!result.success) throw schemaError(name, result.error, json);
  const profile = profileFrom(result.data, name);
  return { id: profile.id, label: profile.label, profiles: [profile] };
}
