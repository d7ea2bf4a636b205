/** What is tested: the look-up, the whole table, and what has no tested process. */
export const processesPath = (): string => '/processes'
export const processTablePath = (): string => '/processes/table'
export const untestedPath = (): string => '/processes/untested'

/** The look-up with its question filled in. */
export function lookUpPath(question: {
  product: string
  form?: string | null
  pack?: string | null
  jar: string
  method: string
  altitude?: string
}): string {
  const asked = Object.entries(question).filter(([, value]) => typeof value === 'string' && value !== '')
  return `${processesPath()}?${new URLSearchParams(asked as [string, string][]).toString()}`
}
