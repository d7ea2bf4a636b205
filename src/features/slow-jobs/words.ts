import { daysBetween } from '../../core/produce/dates.ts'
import type { SlowKind, SlowMeasure, Target } from '../../core/slow/index.ts'
import type { Formatter } from '../../web/format.ts'

export const kindWords: Record<SlowKind, string> = {
  vinegar: 'Vinegar',
  ferment: 'Ferments',
  drying: 'Drying',
  macerating: 'Macerating',
  ageing: 'Ageing',
}

export const measureWords: Record<SlowMeasure, string> = {
  ph: 'pH',
  acidity: 'Acidity',
  temperature: 'Temperature',
  weight: 'Weight',
  taste: 'How it looks, smells, feels or tastes',
}

/** How what was found is typed. */
export const foundHints: Record<SlowMeasure, string> = {
  ph: 'Like 3.6, or words',
  acidity: 'In per cent by titration, like 5.2, or words',
  temperature: 'With its unit, like “21 °C” or “70 °F”, or words',
  weight: 'With its unit, like “1.2 kg”, or words',
  taste: 'In words',
}

/** "16 °C to 27 °C": what a stage should show; '' for nothing. */
export function targetWords(target: Target | null, format: Formatter): string {
  switch (target?.kind) {
    case undefined:
      return ''
    case 'temperature':
      return target.highC < 0
        ? `${format.temperature(target.highC)} or colder`
        : `${format.temperature(target.lowC)} to ${format.temperature(target.highC)}`
    case 'ph-below':
      return `pH below ${format.number(target.ph, 1)}`
    case 'acidity-least':
      return `${format.number(target.percent, 1)} % at least; for canning and pickling 5 %, measured`
    case 'look':
      return target.says
  }
}

/** "due today", "3 days late", "due Sat 12 Sept" */
export function dueWords(dueOn: string, today: string, format: Formatter): string {
  const days = daysBetween(today, dueOn)
  if (days < 0) return `${format.count(-days, 'day')} late: was due ${format.day(dueOn)}`
  if (days === 0) return 'due today'
  return days < 300 ? `due ${format.day(dueOn)}` : `due ${format.date(dueOn)}`
}
