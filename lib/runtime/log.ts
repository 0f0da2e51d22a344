import pino from 'pino';

/** What a log line may say: an allow-list, so that no identifier slips in. Times are UTC. */
export interface LogFields {
  readonly event: string;
  readonly requestId?: string;
  readonly actor?: string;
  readonly action?: string;
  readonly kind?: string;
  readonly durationMs?: number;
  readonly reference?: string;
  readonly error?: string;
}

const logger = pino({
  level: process.env.AFTERBEAT_LOG ?? 'info',
  base: null,
  timestamp: () => `,"at":"${new Date().toISOString()}"`,
});

export function logInfo(fields: LogFields): void {
  logger.info(fields);
}

export function logError(fields: LogFields): void {
  logger.error(fields);
}
