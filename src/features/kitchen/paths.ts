/** The work of a day, to see and to tick off: today's where no day is given, everybody's where no helper is. */
export function kitchenPath(day: string | null = null, helperId: string | null = null): string {
  const query = new URLSearchParams()
  if (day !== null) query.set('day', day)
  if (helperId !== null) query.set('helper', helperId)
  const text = query.toString()
  return text === '' ? '/kitchen' : `/kitchen?${text}`
}
export const tickPath = (): string => '/kitchen/done'
export const tickBackPath = (): string => '/kitchen/back'
