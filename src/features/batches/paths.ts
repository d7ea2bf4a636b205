/** All batches, newest first. */
export const batchesPath = (): string => '/batches'
/** The form of a batch that is finished; of a plan's batch where one is named ("recipe:pack@day"). */
export const newBatchPath = (planId?: string, planned?: string): string =>
  planId === undefined
    ? '/batches/new'
    : `/batches/new?plan=${planId}${planned === undefined ? '' : `&planned=${encodeURIComponent(planned)}`}`
/** One batch: what went in, how it was processed, every jar of it and who took it. */
export const batchPath = (id: string): string => `/batches/${id}`
/** Its process record on paper. */
export const batchRecordPath = (id: string): string => `/batches/${id}/record`
