import { describe, expect, it } from 'vitest'
import { formatFor } from '../../../src/web/format.ts'

const british = formatFor({ locale: 'en-GB', timeZone: 'Europe/London', units: 'metric', currency: 'GBP' })
const american = formatFor({ locale: 'en-US', timeZone: 'America/Denver', units: 'us', currency: 'USD' })
const german = formatFor({ locale: 'de-DE', timeZone: 'Europe/Berlin', units: 'metric', currency: 'EUR' })
const japanese = formatFor({ locale: 'ja-JP', timeZone: 'Asia/Tokyo', units: 'metric', currency: 'JPY' })

describe('figures for eyes', () => {
  it('are in the co-op’s units', () => {
    expect(british.weight(12_400)).toBe('12.4 kg')
    expect(american.weight(12_400)).toBe('27.3 lb')
    expect(british.altitude(640)).toBe('640 m')
    expect(american.altitude(640)).toBe('2,100 ft')
    expect(american.temperature(82)).toBe('180 °F')
    expect(british.volume(1500)).toBe('1.5 l')
  })

  it('are in the manner of the locale', () => {
    expect(british.number(1234.5, 1)).toBe('1,234.5')
    expect(german.number(1234.5, 1)).toBe('1.234,5')
    expect(german.percent(0.125)).toBe('12,5 %')
  })

  it('have money in the currency’s own minor unit', () => {
    expect(british.money(1250)).toBe('£12.50')
    expect(american.money(-5)).toBe('-$0.05')
    expect(japanese.money(1250)).toMatch(/1,250$/)
  })

  it('keep a calendar date the same day in every zone', () => {
    expect(american.day('2026-09-12')).toBe('Sat, Sep 12')
    expect(british.date('2026-09-12')).toMatch(/^Sat,? 12 Sept? 2026$/)
    expect(american.day(new Date('2026-09-12T00:00:00Z'))).toBe('Sat, Sep 12')
    expect(() => british.day('soon')).toThrow(RangeError)
  })

  it('show instants in the co-op’s zone', () => {
    expect(british.instant(new Date('2026-09-11T13:05:00Z'))).toMatch(/11 Sept? 2026, 14:05/)
    expect(american.instant(new Date('2026-09-11T03:05:00Z'))).toMatch(/Sep 10, 2026, 9:05\sPM/)
  })

  it('show times and durations', () => {
    expect(british.minuteOfDay(570)).toMatch(/^0?9:30$/)
    expect(american.minuteOfDay(570)).toMatch(/^9:30\sAM$/)
    expect([0, 45, 60, 95].map(british.duration)).toEqual(['0 min', '45 min', '1 h', '1 h 35 min'])
  })

  it('count', () => {
    expect(british.count(1, 'jar')).toBe('1 jar')
    expect(british.count(0, 'jar')).toBe('0 jars')
    expect(british.count(2, 'loaf', 'loaves')).toBe('2 loaves')
  })

  it('are made once for each manner of reading', () => {
    expect(formatFor({ locale: 'en-GB', timeZone: 'Europe/London', units: 'metric', currency: 'GBP' })).toBe(british)
  })
})
