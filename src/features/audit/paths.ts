/** What happened, newest first. @param query which part of it: a kind, and the entry after which older ones follow */
export function auditPath(query: { kind?: string; before?: string } = {}): string {
  const { kind = '', before = '' } = query
  const asked = new URLSearchParams({ ...(kind === '' ? {} : { kind }), ...(before === '' ? {} : { before }) })
  return asked.size === 0 ? '/audit' : `/audit?${asked}`
}
