/** All plans. */
export const plansPath = (): string => '/plans'
/** The first step of a new plan; with a lot's id that lot is ticked. */
export const newPlanPath = (lotId?: string): string => `/plans/new${lotId === undefined ? '' : `?lot=${lotId}`}`
/** One plan: its steps and its divisions. */
export const planPath = (id: string): string => `/plans/${id}`
export const planLotsPath = (id: string): string => `/plans/${id}/lots`
export const planDaysPath = (id: string): string => `/plans/${id}/days`
export const planWishesPath = (id: string): string => `/plans/${id}/wishes`
/** The wishes, filled in beforehand with what the service would propose. */
export const proposedWishesPath = (id: string): string => `/plans/${id}/wishes?proposed=yes`
/** The last step: budget, outlets, and the button that works it out. */
export const planOutletsPath = (id: string): string => `/plans/${id}/outlets`
/** Where a division is asked for. */
export const divisionsPath = (id: string): string => `/plans/${id}/divisions`
/** One division of a plan, by its number within the plan. */
export const divisionPath = (id: string, number: number | string): string => `/plans/${id}/divisions/${number}`
export const stopDivisionPath = (id: string, number: number | string): string => `/plans/${id}/divisions/${number}/stop`
/** The division on paper, for the wall. */
export const divisionSheetPath = (id: string, number: number | string): string =>
  `/plans/${id}/divisions/${number}/sheet`
/** Two divisions side by side, each by its number within the plan or by its id in another plan. */
export const comparePath = (id: string, a?: number | string, b?: number | string): string =>
  `/plans/${id}/compare${a === undefined || b === undefined ? '' : `?a=${a}&b=${b}`}`
/** Where a timetable of a division is asked for. */
export const makeTimetablePath = (id: string, division: number | string): string =>
  `/plans/${id}/divisions/${division}/timetable`
/** One timetable of a plan, by its number within the plan. */
export const timetablePath = (id: string, number: number | string): string => `/plans/${id}/timetables/${number}`
export const stopTimetablePath = (id: string, number: number | string): string =>
  `/plans/${id}/timetables/${number}/stop`
/** The timetable on paper: for the wall, or for one helper. */
export const timetableSheetPath = (id: string, number: number | string, helperId?: string): string =>
  `/plans/${id}/timetables/${number}/sheet${helperId === undefined ? '' : `?helper=${helperId}`}`
/** A timetable's form for what is settled by hand: tasks at a time, people in tasks, breaks, machines out. */
export const changeTimetablePath = (id: string, number: number | string): string =>
  `/plans/${id}/timetables/${number}/change`
/** What one more machine, an hour or another pair of hands would be worth to a timetable. */
export const timetableWorthPath = (id: string, number: number | string): string =>
  `/plans/${id}/timetables/${number}/worth`
/** Where trying helps for a timetable is stopped. */
export const stopTimetableWorthPath = (id: string, number: number | string): string =>
  `/plans/${id}/timetables/${number}/worth/stop`
