/** When the kitchen works. */
export const workDaysPath = (): string => '/work-days'
export const newWorkDayPath = (): string => '/work-days/new'
export const workDayPath = (id: string): string => `/work-days/${id}`
export const editWorkDayPath = (id: string): string => `/work-days/${id}/edit`
/** Who is there and when. */
export const workDayHoursPath = (id: string): string => `/work-days/${id}/hours`
/** What cannot be used that day. */
export const workDayEquipmentPath = (id: string): string => `/work-days/${id}/equipment-out`
export const workDayRemovalPath = (id: string): string => `/work-days/${id}/removal`
