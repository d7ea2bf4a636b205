/** What households brought, what they are due, what is owed; counted from a date (ISO) on where one is given. */
export const sharesPath = (since?: string): string => `/shares${since === undefined ? '' : `?since=${since}`}`
/** What counts how much. */
export const shareRulePath = (): string => '/shares/rule'
/** Where it is sent how many people live in each household. */
export const sharePeoplePath = (): string => '/shares/people'
/** The form for a sharing out; `like`: filled in as that one was. */
export const newShareOutPath = (from: { since?: string; like?: string } = {}): string => {
  const query = new URLSearchParams(from).toString()
  return `/shares/new${query === '' ? '' : `?${query}`}`
}
export const shareOutPath = (id: string): string => `/shares/${id}`
export const handOutPath = (id: string): string => `/shares/${id}/hand-out`
/** Takes a hand-out back. */
export const undoHandOutPath = (id: string): string => `/shares/${id}/undo`
/** Drops a proposal. */
export const dropShareOutPath = (id: string): string => `/shares/${id}/drop`
/** What each household takes from where, on paper. */
export const pickingListPath = (id: string, householdId?: string): string =>
  `/shares/${id}/picking${householdId === undefined ? '' : `?household=${householdId}`}`
