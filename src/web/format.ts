import { formatAltitude, formatMass, formatTemperature, formatVolume } from '../core/units/index.ts'
import type { CoopWays } from './asking.ts'

/** How a co-op's people read figures. Rounds for the eye only: nothing here goes back into a computation. */
export type Formatter = {
  /** 12400 g: "12.4 kg" or "27.3 lb" */
  weight(grams: number): string
  /** 1500 ml: "1.5 l" or "1.59 qt" */
  volume(ml: number): string
  /** 82 °C: "82 °C" or "180 °F" */
  temperature(celsius: number): string
  /** 640 m: "640 m" or "2,100 ft" */
  altitude(metres: number): string
  /** A calendar date (YYYY-MM-DD, or a Date at UTC midnight as the database gives it): "Sat 14 Sep" */
  day(date: string | Date): string
  /** As `day`, with the year */
  date(date: string | Date): string
  /** An instant in the co-op's own zone: "14 Sep 2026, 14:05" */
  instant(at: Date): string
  /** Minutes from the co-op's midnight: 570 is "9:30" */
  minuteOfDay(minute: number): string
  /** 95 is "1 h 35 min" */
  duration(minutes: number): string
  /** Minor units of the co-op's currency: 1250 is "$12.50" */
  money(minor: number): string
  /** 1234.5 is "1,234.5"; at most `digits` after the point (0 where not given) */
  number(value: number, digits?: number): string
  /** 0.125 is "12.5 %"; at most one digit after the point */
  percent(share: number): string
  /** count(2, 'jar') is "2 jars"; count(2, 'loaf', 'loaves') is "2 loaves" */
  count(many: number, one: string, more?: string): string
}

/** The formatter of a co-op, made once for each manner of reading. */
export function formatFor(ways: Pick<CoopWays, 'locale' | 'timeZone' | 'units' | 'currency'>): Formatter {
  const key = [ways.locale, ways.timeZone, ways.units, ways.currency].join(' ')
  let formatter = formatters.get(key)
  if (formatter === undefined) {
    formatter = makeFormatter(ways)
    formatters.set(key, formatter)
  }
  return formatter
}

const formatters = new Map<string, Formatter>()

function makeFormatter(ways: Pick<CoopWays, 'locale' | 'timeZone' | 'units' | 'currency'>): Formatter {
  const { locale, timeZone, currency } = ways
  const numbers = [0, 1, 2, 3].map((digits) => new Intl.NumberFormat(locale, { maximumFractionDigits: digits }))
  const number = (value: number, digits = 0): string => {
    const format = numbers[digits]
    if (format === undefined) throw new RangeError('at most three digits after the point')
    return format.format(value)
  }
  const days = new Intl.DateTimeFormat(locale, { timeZone: 'UTC', weekday: 'short', day: 'numeric', month: 'short' })
  const dates = new Intl.DateTimeFormat(locale, {
    timeZone: 'UTC',
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  })
  const instants = new Intl.DateTimeFormat(locale, { timeZone, dateStyle: 'medium', timeStyle: 'short' })
  const times = new Intl.DateTimeFormat(locale, { timeZone: 'UTC', hour: 'numeric', minute: '2-digit' })
  const money = new Intl.NumberFormat(locale, { style: 'currency', currency })
  const minorPerUnit = 10 ** (money.resolvedOptions().maximumFractionDigits ?? 2)
  const plurals = new Intl.PluralRules(locale)
  return {
    weight: (grams) => formatMass(grams, ways.units),
    volume: (ml) => formatVolume(ml, ways.units),
    temperature: (celsius) => formatTemperature(celsius, ways.units),
    altitude: (metres) => formatAltitude(metres, ways.units),
    day: (date) => days.format(utcMidnight(date)),
    date: (date) => dates.format(utcMidnight(date)),
    instant: (at) => instants.format(at),
    minuteOfDay: (minute) => times.format(minute * 60_000),
    duration: (minutes) => duration(minutes, number),
    money: (minor) => money.format(minor / minorPerUnit),
    number,
    percent: (share) => `${number(share * 100, 1)} %`,
    count: (many, one, more = `${one}s`) => `${number(many)} ${plurals.select(many) === 'one' ? one : more}`,
  }
}

type FormatNumber = (value: number, digits?: number) => string

function duration(minutes: number, number: FormatNumber): string {
  const hours = Math.floor(minutes / 60)
  const rest = Math.round(minutes - hours * 60)
  if (hours === 0) return `${number(rest)} min`
  return rest === 0 ? `${number(hours)} h` : `${number(hours)} h ${number(rest)} min`
}

function utcMidnight(date: string | Date): Date {
  const at = typeof date === 'string' ? new Date(`${date}T00:00:00Z`) : date
  if (Number.isNaN(at.getTime())) throw new RangeError('not a date')
  return at
}
