/** What the co-op noted from its local food authority. */
export const localProcessesPath = (): string => '/local-processes'
export const newLocalProcessPath = (): string => '/local-processes/new'
/** The page on which one is changed. */
export const localProcessPath = (id: string): string => `/local-processes/${id}`
export const localProcessWithdrawalPath = (id: string): string => `/local-processes/${id}/withdrawal`
