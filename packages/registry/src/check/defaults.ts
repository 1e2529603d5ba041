/** Limits of the checks, each with where it comes from. */
export const checkDefaults = {
  interfaces: {
    /** Plus and minus where an interface states none, as schemas/variant.schema.json says. Common practice, no source. */
    tolerance_mm: 0.1,
    /** How far an axis may pass from the declared point, and still be meant. Common practice, no source. */
    offAxis_mm: 0.5,
    /** … or this share of the nominal size, if that is more. Common practice, no source. */
    offAxisOfNominal: 0.25,
    /** Angle between declared and measured direction: what somebody writes by hand. Common practice, no source. */
    angle_deg: 5,
    /** A feature of another size is the one meant up to this factor; beyond, it is another one. No source. */
    sizeFactor: 1.5,
    /** A face this far from the declared point, along its normal, is the one meant. No source. */
    faceReach_mm: 2,
    /** Rounding of a 32-bit coordinate, as a share of the largest (IEEE 754: 2⁻²⁴ each, two of them, and a circle fit). */
    rounding: 1e-6,
  },
  printing: {
    /** Layers beyond this share of the nozzle's width hold badly. Habit of the trade: 75 to 80 %. No source. */
    layerOfNozzle: 0.8,
    /** Width of a nozzle where neither the part nor a printer states one: the usual one. Common practice, no source. */
    nozzle_mm: 0.4,
  },
  /** Pairs of contents of one letter for which git is asked which came first, some milliseconds each. No source. */
  maxParallels: 500,
} as const;
