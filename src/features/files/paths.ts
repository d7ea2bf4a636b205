/** Tables to take out and bring in. */
export const filesPath = (): string => '/files'
/** One table as CSV (RFC 4180): stock, ledger or lots. */
export const csvPath = (table: string): string => `/files/${table}.csv`
export const csvImportPath = (table: string): string => `/files/${table}/import`
