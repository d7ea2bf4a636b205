export { checkSchedule, type ScheduleRule, scheduleRules } from './check.ts'
