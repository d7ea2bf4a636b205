import type { Step } from '../recipe.ts'
import { step } from './parts.ts'

// Steps that many starters share. Minutes of hands are common practice, no source.

export function wash(perKg: number, says = 'Wash in cold running water and sort out what is spoiled.'): Step {
  return step('wash', 'wash', says, { perKg, hands: 2 })
}

export function cut(perKg: number, says: string): Step {
  return step('cut', 'cut', says, { perKg, hands: 2 })
}

/** Shelling, stripping and picking over by hand, without a knife: children can help. */
export function pick(perKg: number, says: string): Step {
  return step('wash', 'pack', says, { perKg, hands: 2 })
}

/** Cooking that goes straight on into the jars. */
export function cook(says: string, perKg: number, perRun = 0): Step {
  return step('stove', 'stove', says, { perKg, perRun, atOnce: true }, ['burner'])
}

/** Cooking with a rest after it, in which nobody is needed. */
export function cookAndRest(says: string, perKg: number, perRun: number, wait: number): Step {
  return step('stove', 'stove', says, { perKg, perRun, wait }, ['burner'])
}

export function sterilise(): Step {
  return step(
    'stove',
    'stove',
    'Boil the empty jars for 10 minutes, and 1 minute more for each 1,000 ft (305 m) of altitude, and keep them hot.',
    { perUnit: 0.3, atOnce: true },
    ['burner'],
  )
}

/** Filling hot jars; the canner waits hot. */
export function fillJars(perUnit: number, says: string): Step {
  return step('fill', 'fill', `${says} Wipe the rims and close the jars.`, { perUnit, hands: 2, atOnce: true })
}

/**
 * The load itself. How long it takes is the run's machine minutes and the tested process on top, so it has no length
 * of its own beyond the minutes at the stove.
 */
export function boilInCanner(): Step {
  return step(
    'canner',
    'stove',
    'Set the jars in the hot canner with an inch of water over them (two where the process is longer than 30 minutes), bring it to a full boil and keep it boiling for the tested time. Heat off, lid off, wait 5 minutes, lift out.',
    { perRun: 8 },
    ['canner', 'burner'],
  )
}

export function pressureInCanner(): Step {
  return step(
    'canner',
    'stove',
    'Close the canner over the jars, let it vent for 10 minutes, bring it to the tested pressure and keep it there for the tested time. Let the pressure fall by itself; wait 10 minutes before opening.',
    { perRun: 20 },
    ['pressure-canner', 'burner'],
  )
}

/** Cooling and labelling. */
export function coolAndLabel(): Step[] {
  return [
    step('label', null, 'Let the jars stand apart for 12 to 24 hours without touching the lids.', { wait: 720 }),
    step('label', 'pack', 'Test each seal, take off the bands, wipe and label.', { perUnit: 0.5 }),
  ]
}

/** Hot fruit or vegetables into jars, canner, shelf. */
export function intoTheCanner(fillMinutes: number, says: string, canner: 'water' | 'pressure' = 'water'): Step[] {
  return [fillJars(fillMinutes, says), canner === 'water' ? boilInCanner() : pressureInCanner(), ...coolAndLabel()]
}

export function freeze(says = 'Pack, press out the air, label with the date and freeze in a single layer.'): Step {
  return step('freezer', 'pack', says, { perUnit: 2 }, ['freezer'])
}

/** Vegetables before freezing. */
export function blanch(says: string, perKg = 2): Step {
  return step('stove', 'stove', says, { perKg }, ['burner'])
}

export function dry(says: string, perRun: number, hours: number, machine: 'dehydrator' | 'oven' = 'dehydrator'): Step {
  return step('oven', 'pack', says, { perRun, wait: hours * 60 }, [machine])
}

export function condition(): Step {
  return step(
    'label',
    'pack',
    'Cool for an hour, fill jars two thirds full and shake them daily for a week; dry again if they bead. Then pack airtight and label.',
    { perUnit: 2, wait: 10_080 },
  )
}
