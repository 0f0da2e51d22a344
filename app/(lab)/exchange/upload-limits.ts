/** Larger files are imported by the command, which reads them from the disk. */
export const MAX_UPLOAD_BYTES = 5_000_000;
