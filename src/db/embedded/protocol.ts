import type {
  ConnectionInfo,
  DriverAdapterError,
  IsolationLevel,
  SqlQuery,
  SqlResultSet,
} from '@prisma/driver-adapter-utils'

/** What the database's thread is asked to do, and what it answers; `transaction` names one that it began itself. */
export type Operations = {
  queryRaw: { input: { query: SqlQuery; transaction?: number }; output: SqlResultSet }
  executeRaw: { input: { query: SqlQuery; transaction?: number }; output: number }
  executeScript: { input: { script: string }; output: undefined }
  begin: { input: { isolationLevel?: IsolationLevel }; output: number }
  commit: { input: { transaction: number }; output: undefined }
  rollback: { input: { transaction: number }; output: undefined }
  /** How often the disk was flushed since the thread began. */
  flushes: { input: Record<string, never>; output: number }
  /** The data folder as a gzipped tar archive. */
  dump: { input: Record<string, never>; output: Uint8Array }
  close: { input: Record<string, never>; output: undefined }
}

export type Operation = keyof Operations
export type Input<O extends Operation> = Operations[O]['input']
export type Output<O extends Operation> = Operations[O]['output']

export type ThreadData = { folder: string; flush: boolean }
export type Request = { [O in Operation]: { id: number; operation: O; input: Input<O> } }[Operation]
/** An error crosses as what it says; one from the database keeps its cause, from which it is made again. */
export type SentError = { name: string; message: string; cause?: DriverAdapterError['cause'] }
export type Answer =
  | { kind: 'opened'; connectionInfo: ConnectionInfo }
  | { kind: 'done'; id: number; output: unknown }
  | { kind: 'failed'; id: number; error: SentError }
