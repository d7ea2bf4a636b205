/** What takes days or months: what is due, what goes on, what ended. */
export const slowJobsPath = (): string => '/slow-jobs'
export const newSlowJobPath = (batchId?: string): string =>
  `/slow-jobs/new${batchId === undefined ? '' : `?batch=${batchId}`}`
export const slowJobPath = (id: string): string => `/slow-jobs/${id}`
export const slowStagePath = (id: string, number: number | string): string => `/slow-jobs/${id}/stages/${number}`
export const endSlowJobPath = (id: string): string => `/slow-jobs/${id}/end`
/** Takes up a job again that was ended by mistake. */
export const undoSlowJobEndPath = (id: string): string => `/slow-jobs/${id}/end/undo`
/** Takes a stage of one's own. */
export const slowStagesPath = (id: string): string => `/slow-jobs/${id}/stages`
/** Takes another day for an open stage. */
export const slowStageDatePath = (id: string, number: number | string): string =>
  `/slow-jobs/${id}/stages/${number}/date`
/** Opens a stage again that was noted as done by mistake. */
export const slowStageUndoPath = (id: string, number: number | string): string =>
  `/slow-jobs/${id}/stages/${number}/undo`
