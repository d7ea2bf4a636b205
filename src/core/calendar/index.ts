export { utcOf } from './time.ts'
export { type Calendar, type CalendarEvent, type CalendarTime, type CalendarWords, writeCalendar } from './write.ts'
