export const recallsPath = (): string => '/recalls'
/** The form of a new recall; of one batch or of all that came from one lot. */
export const newRecallPath = (from: { batchId?: string; lotId?: string } = {}): string => {
  const query = from.batchId ? `?batch=${from.batchId}` : from.lotId ? `?lot=${from.lotId}` : ''
  return `/recalls/new${query}`
}
export const recallPath = (id: string): string => `/recalls/${id}`
/** The notice on paper. */
export const recallNoticePath = (id: string): string => `/recalls/${id}/notice`
export const liftRecallPath = (id: string): string => `/recalls/${id}/lift`
/** From a lot to every batch and jar of it and who took them. */
export const traceLotPath = (lotId: string): string => `/trace/lots/${lotId}`
/** From a batch back to its lots and forward to every jar. */
export const traceBatchPath = (batchId: string): string => `/trace/batches/${batchId}`
