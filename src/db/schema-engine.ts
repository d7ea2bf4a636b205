import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import {
  bindMigrationAwareSqlAdapterFactory,
  type SqlMigrationAwareDriverAdapterFactory,
} from '@prisma/driver-adapter-utils'
import * as engine from '@prisma/schema-engine-wasm/schema_engine_bg'

export type SchemaEngine = engine.SchemaEngine
export type MigrationList = engine.MigrationList

/** Tables and enums that are none of Prisma's business: none. */
export const NO_FILTERS: engine.SchemaFilter = { externalTables: [], externalEnums: [] }

/**
 * Lends Prisma's engine for migrations, as WebAssembly in this process: no binary, no download. One at a time: two at
 * work in the same memory were seen to read each other's texts.
 *
 * @param factory the database it works on
 * @param work what is done with it; its answer or its failure is handed on
 * @param schema the text of schema.prisma where migrations are written; not needed to apply them
 */
export function withSchemaEngine<T>(
  factory: SqlMigrationAwareDriverAdapterFactory,
  work: (engine: SchemaEngine) => Promise<T>,
  schema?: string,
): Promise<T> {
  const mine = turn.then(async () => {
    const lent = await createSchemaEngine(factory, schema)
    try {
      return await work(lent)
    } finally {
      lent.free()
    }
  })
  // The next one's turn comes whether this one succeeds or not; whoever asked hears of a failure.
  turn = mine.then(
    () => undefined,
    () => undefined,
  )
  return mine
}

let turn: Promise<void> = Promise.resolve()

async function createSchemaEngine(
  factory: SqlMigrationAwareDriverAdapterFactory,
  schema: string | undefined,
): Promise<SchemaEngine> {
  loading ??= load()
  await loading
  const datamodels: [string, string][] | undefined = schema === undefined ? undefined : [['schema.prisma', schema]]
  // What the engine has to say comes back as results and errors; its log is for its own makers.
  return engine.SchemaEngine.new({ datamodels }, () => undefined, bindMigrationAwareSqlAdapterFactory(factory))
}

let loading: Promise<void> | undefined

/** Only what is used here of WebAssembly, which the type declarations for Node do not describe. */
declare const WebAssembly: {
  instantiate(
    bytes: Uint8Array,
    imports: Record<string, unknown>,
  ): Promise<{ instance: { exports: Record<string, unknown> & { __wbindgen_start: () => void } } }>
}

/** The package's own entry imports the .wasm file as a module, which Node 20 does not do. */
async function load(): Promise<void> {
  const glue = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg')
  const bytes = await readFile(glue.replace(/\.js$/, '.wasm'))
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': engine })
  engine.__wbg_set_wasm(instance.exports)
  instance.exports.__wbindgen_start()
}
