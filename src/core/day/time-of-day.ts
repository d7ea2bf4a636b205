/**
 * A time of day as people type it, as minutes from midnight: "8", "8:00", "14.30", "8 am", "2:15 pm", "noon",
 * "midnight" (the end of the day, 1440, as is "24:00"). null for anything else: "25", "8:75", "13 pm".
 */
export function parseTimeOfDay(text: string): number | null {
  const typed = text.trim().toLowerCase()
  if (typed === 'noon') return 12 * 60
  if (typed === 'midnight') return 24 * 60
  const parts = /^(\d{1,2})(?:[:.h](\d{2}))?\s*(?:([ap])\.?\s?m\.?)?$/.exec(typed)
  if (parts === null) return null
  const hour = Number(parts[1])
  const minute = Number(parts[2] ?? 0)
  const half = parts[3]
  if (minute > 59) return null
  if (half === undefined) return hour * 60 + minute <= 24 * 60 ? hour * 60 + minute : null
  if (hour < 1 || hour > 12) return null
  return ((hour % 12) + (half === 'p' ? 12 : 0)) * 60 + minute
}
