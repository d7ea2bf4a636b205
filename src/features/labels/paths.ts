/** Choosing what to print: batches, how many, which sheet, the first free label. */
export const labelsPath = (batchId?: string): string => `/labels${batchId === undefined ? '' : `?batch=${batchId}`}`
/** The labels as PDF. */
export const labelsPdfPath = (): string => '/labels/print.pdf'
/** Sheets by their measures. */
export const labelSheetsPath = (): string => '/labels/sheets'
/** The form of a new sheet; with the measures of a known one (by its name) where one is named. */
export const newLabelSheetPath = (like?: string): string =>
  `/labels/sheets/new${like === undefined ? '' : `?like=${encodeURIComponent(like)}`}`
export const labelSheetPath = (id: string): string => `/labels/sheets/${id}`
export const labelSheetRemovalPath = (id: string): string => `/labels/sheets/${id}/removal`
/** Outlines and a ruler, to measure what the printer shifts. */
export const labelTestPagePath = (id: string): string => `/labels/sheets/${id}/test.pdf`
