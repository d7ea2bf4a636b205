import { legalMinimum, picklingAcidity, vinegarUse } from '../practice/vinegar.ts'
import { phLine, phLineSources } from '../process/acidity.ts'
import { type Citation, practice } from '../process/sources.ts'
import { type Found, foundOf } from './found.ts'
import type { SlowKind, SlowMeasure, Target } from './stage.ts'

/** `reached`: as it should be; `not-yet`: not so, and what to do; `unmeasured`: no figure; `noted`: nothing to compare with. */
export type Verdict = 'reached' | 'not-yet' | 'unmeasured' | 'noted'
export type Judgement = { verdict: Verdict; says: string; source: Citation | null }

/** Thermometers are read to a degree, and bands are printed in whole degrees Fahrenheit. */
const slackC = 0.6

/**
 * What was found, held against what it should be.
 *
 * Acidity goes by what vinegar may be used for, whatever the stage asked. A ferment's pH must lie below 4.6: the
 * published line is 4.6 or below, but kitchen meters and strips err by a tenth and more. A figure that cannot be one
 * (pH 36), and words where a figure is asked for, count as not measured.
 *
 * @param found as typed, '' for nothing
 * @param target what the stage asks for; null: nothing
 */
export function judge(kind: SlowKind, measure: SlowMeasure, found: string, target: Target | null = null): Judgement {
  const reading = foundOf(measure, found)
  switch (measure) {
    case 'acidity':
      return judgeAcidity(reading)
    case 'ph':
      return judgePh(kind, reading)
    case 'temperature':
      return judgeTemperature(reading, target)
    default:
      return { verdict: 'noted', says: target?.kind === 'look' ? `It should be: ${target.says}` : '', source: null }
  }
}

function judgeAcidity(found: Found): Judgement {
  if (found.kind !== 'number') {
    const { says, source } = vinegarUse(null)
    return { verdict: 'unmeasured', says, source }
  }
  const { says, source } = vinegarUse(found.value)
  if (found.value >= legalMinimum.acidity) return { verdict: 'reached', says, source }
  return {
    verdict: 'not-yet',
    says: `${says} Below ${legalMinimum.acidity} % it may not even be called vinegar: let it stand on and measure again.`,
    source: legalMinimum.source,
  }
}

function judgePh(kind: SlowKind, found: Found): Judgement {
  const source = phLineSources[0] ?? null
  if (kind === 'vinegar') {
    const says = `A pH does not tell how much acid there is: only a titration does. ${vinegarUse(null).says}`
    return { verdict: 'unmeasured', says, source: picklingAcidity.source }
  }
  if (kind !== 'ferment') return { verdict: 'noted', says: '', source: null }
  if (found.kind !== 'number') {
    const says = 'Its pH has not been measured: keep it cold once it is done, never at room temperature.'
    return { verdict: 'unmeasured', says, source }
  }
  if (found.value < phLine) {
    const says = `Below ${phLine}, as it should be. Keep it cold once it is done, or put it up by a tested process: a low pH alone does not make a jar keep.`
    return { verdict: 'reached', says, source }
  }
  const says = `Not below ${phLine} yet: let it ferment on and measure again, and do not keep it at room temperature once it is done. If it stays so, throw it away, and ask your local extension service.`
  return { verdict: 'not-yet', says, source }
}

function judgeTemperature(found: Found, target: Target | null): Judgement {
  if (target?.kind !== 'temperature') return { verdict: 'noted', says: '', source: null }
  const source = practice('compared with what the stage asks for')
  if (found.kind !== 'number') return { verdict: 'unmeasured', says: 'No temperature was noted.', source }
  if (found.value < target.lowC - slackC)
    return { verdict: 'not-yet', says: 'Too cold: find a warmer place, or turn it up.', source }
  if (found.value > target.highC + slackC)
    return { verdict: 'not-yet', says: 'Too warm: find a cooler place, or turn it down.', source }
  return { verdict: 'reached', says: 'As it should be.', source }
}
