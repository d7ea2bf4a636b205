export { utcOf } from './time.ts'
export { type Calendar, type CalendarEvent, writeCalendar } from './write.ts'
