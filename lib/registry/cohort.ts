/**
 * One lab's cases as columns: what records fills and analysis reads. Index i of every column is one case (one procedure),
 * ordered by performed day, then case code. Missing numbers are -1 (documented per column), missing codes are index 0 = 'not recorded'.
 */
export interface CohortColumn {
  /** Dictionary; entry 0 is '' = not recorded. */
  readonly codes: readonly string[];
  /** Index into `codes`, per case. */
  readonly index: Uint16Array;
}

export interface Cohort {
  /** Rises with every write of the lab: a key for caches and part of the data fingerprint. */
  readonly dataVersion: string;
  readonly size: number;
  readonly procedureId: readonly string[];
  readonly patientId: readonly string[];
  readonly patientCode: readonly string[];
  /** Dense number of the patient, 0-based: cases of one patient share it. */
  readonly patientIndex: Int32Array;
  /** Epoch day of the procedure. */
  readonly performedOnDay: Int32Array;
  /** 1 = first procedure of the patient. */
  readonly ordinal: Uint8Array;
  /** Days to the patient's next procedure, death, last contact of any kind; -1 = none. */
  readonly daysToNext: Int32Array;
  readonly daysToDeath: Int32Array;
  readonly daysToLastContact: Int32Array;
  readonly ageYears: Int16Array;
  readonly laDiameterMm: Int16Array;
  readonly lvefPct: Int16Array;
  /** 1 yes, 0 no, -1 not recorded. */
  readonly structuralHeartDisease: Int8Array;
  readonly sex: CohortColumn;
  readonly afType: CohortColumn;
  readonly intendedStrategy: CohortColumn;
  readonly derivedStrategy: CohortColumn;
  readonly energy: CohortColumn;
  readonly operator: CohortColumn;
  readonly cohortTag: CohortColumn;
  /** Packed evidence of case i: evidence[evidenceStart[i] .. evidenceStart[i + 1]), see rhythm-evidence.ts. */
  readonly evidenceStart: Int32Array;
  readonly evidence: Int32Array;
}

/** The code of a patient's case: the patient code and the procedure's ordinal. */
export function caseCode(patientCode: string, ordinal: number): string {
  return `${patientCode}/${ordinal}`;
}
