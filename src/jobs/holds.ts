import type { JobKey, JobKind } from './queue.ts'

/** Runs one statement with its values ($1, $2, ...) on the server. */
export type Sql = (text: string, values?: readonly unknown[]) => Promise<{ rows: Record<string, unknown>[] }>

/** One run's hold on a row. */
export type Hold = {
  /** How often the row has been begun, this time included, without having come to an end. */
  tries: number
  /** Holds it further; false: it ran out before, and another has it or may take it. */
  renew(): Promise<boolean>
  /** The work has come to its end. */
  end(): Promise<void>
  /** Whoever comes next may have it. `counts` false: this time is not counted as a try. */
  giveBack(counts: boolean): Promise<void>
}

export type Holds = {
  /** null: another run has it. */
  take(kind: JobKind, key: JobKey, holder: string): Promise<Hold | null>
  /** Of these rows, those that no run has. */
  free(kind: JobKind, keys: readonly JobKey[]): Promise<JobKey[]>
  /** Forgets holds that ran out long ago. */
  sweep(): Promise<void>
}

/**
 * Who works on which row, on a server with several processes. A hold lasts for `seconds` unless it is renewed: that of a
 * process that was killed runs out. The server's clock alone counts, so that the processes' own may differ.
 */
export function createHolds(sql: Sql, seconds: number): Holds {
  const until = `now() + ${seconds} * interval '1 second'`
  return {
    async take(kind, { coopId, id }, holder) {
      const { rows } = await sql(
        `INSERT INTO "JobHold" ("coopId", "kind", "id", "holder", "until", "tries") VALUES ($1, $2, $3, $4, ${until}, 1)
        ON CONFLICT ("coopId", "kind", "id") DO UPDATE
          SET "holder" = excluded."holder", "until" = excluded."until", "tries" = "JobHold"."tries" + 1
          WHERE "JobHold"."until" < now()
        RETURNING "tries"`,
        [coopId, kind, id, holder],
      )
      const tries = rows[0]?.['tries']
      return typeof tries === 'number' ? makeHold([coopId, kind, id, holder], tries) : null
    },
    async free(kind, keys) {
      const { rows } = await sql(
        `SELECT asked."coopId", asked."id" FROM unnest($2::text[], $3::text[]) WITH ORDINALITY AS asked ("coopId", "id", "place")
        WHERE NOT EXISTS (SELECT FROM "JobHold" AS hold
          WHERE hold."coopId" = asked."coopId" AND hold."kind" = $1 AND hold."id" = asked."id" AND hold."until" >= now())
        ORDER BY asked."place"`,
        [kind, keys.map(({ coopId }) => coopId), keys.map(({ id }) => id)],
      )
      return rows.map(({ coopId, id }) => ({ coopId: String(coopId), id: String(id) }))
    },
    async sweep() {
      await sql(`DELETE FROM "JobHold" WHERE "until" < now() - interval '1 day'`)
    },
  }

  function makeHold(values: readonly string[], tries: number): Hold {
    const mine = `"coopId" = $1 AND "kind" = $2 AND "id" = $3 AND "holder" = $4`
    return {
      tries,
      async renew() {
        const { rows } = await sql(`UPDATE "JobHold" SET "until" = ${until} WHERE ${mine} RETURNING 1 AS kept`, values)
        return rows.length > 0
      },
      async end() {
        await sql(`DELETE FROM "JobHold" WHERE ${mine}`, values)
      },
      async giveBack(counts) {
        const less = counts ? 0 : 1
        await sql(
          `UPDATE "JobHold" SET "until" = now() - interval '1 second', "tries" = "tries" - ${less} WHERE ${mine}`,
          values,
        )
      },
    }
  }
}
