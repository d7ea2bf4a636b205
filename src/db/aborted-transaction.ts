import { DriverAdapterError, type SqlQuery, type Transaction } from '@prisma/driver-adapter-utils'

/**
 * The same transaction, whose COMMIT is refused once a statement in it has failed. PostgreSQL answers such a COMMIT with
 * a ROLLBACK and no error, so that work which catches the error of its last statement would be told it was saved.
 */
export function refuseCommitAfterFailure(transaction: Transaction): Transaction {
  let failed = false
  const noticing = async <T>(result: Promise<T>): Promise<T> => {
    try {
      return await result
    } catch (error) {
      failed = true
      throw error
    }
  }
  const executeRaw = async (query: SqlQuery): Promise<number> => {
    // For the server Prisma sends the COMMIT as a statement; for the embedded database it calls commit().
    if (!failed || query.sql !== 'COMMIT') return noticing(transaction.executeRaw(query))
    await transaction.executeRaw({ ...query, sql: 'ROLLBACK' })
    throw aborted()
  }
  return {
    provider: transaction.provider,
    adapterName: transaction.adapterName,
    options: transaction.options,
    queryRaw: (query) => noticing(transaction.queryRaw(query)),
    executeRaw,
    commit: async () => {
      if (!failed || !transaction.options.usePhantomQuery) return transaction.commit()
      await transaction.rollback()
      throw aborted()
    },
    rollback: () => transaction.rollback(),
  }
}

/** As PostgreSQL says it to any other statement in such a transaction: in_failed_sql_transaction. */
function aborted(): DriverAdapterError {
  const code = '25P02'
  const message = 'a statement of this transaction failed, so it was undone'
  return new DriverAdapterError({
    kind: 'postgres',
    code,
    severity: 'ERROR',
    message,
    detail: undefined,
    column: undefined,
    hint: undefined,
    originalCode: code,
    originalMessage: message,
  })
}
