/** What the kitchen has. */
export const equipmentListPath = (): string => '/equipment'
export const newEquipmentPath = (): string => '/equipment/new'
/** The page on which one is changed. */
export const equipmentPath = (id: string): string => `/equipment/${id}`
export const equipmentRemovalPath = (id: string): string => `/equipment/${id}/removal`
