import type { EquipmentOnHand, KitchenDay, Question } from '../division/question.ts'
import { dateAfter, daysBetween } from '../produce/dates.ts'
import type { AgeBand, EquipmentKind, Station, WorkKind } from '../produce/vocabulary.ts'
import { allowedSkills } from './age-rules.ts'
import { type BurnerParts, burnerParts, canners } from './burners.ts'
import { cutOut, merged, type Window } from './windows.ts'

/**
 * A kitchen as a timetable sees it. Minute 0 is midnight at the beginning of the first work day in the co-op's zone, and
 * days are 1,440 minutes apart: a night in which clocks change is a matter of showing times, not of planning them.
 */
export type Kitchen = {
  /** In order; `opens` and `closes` on the minute axis. */
  days: WorkDay[]
  machines: MachineKind[]
  /** Places at the counter for washing, cutting and packing; null: enough. */
  counterPlaces: number | null
  helpers: Helper[]
}

export type WorkDay = { id: string; date: string; midnight: number; opens: number; closes: number }

/** Machines of one kind, which are all alike. */
export type MachineKind = {
  kind: EquipmentKind
  /** How many can be used on each of the days. */
  countByDay: number[]
  /** They may run outside the opening hours. Only where all of the kind may. */
  aroundTheClock: boolean
  /**
   * Minutes until a full one is at its temperature or pressure, venting included; the longest that is stated of the
   * kind, so that nothing is promised that one of them cannot do. Absent: nobody has said.
   */
  comeUpMinutes?: number
  /** Minutes from the end of the process until jars may be lifted out; likewise the longest that is stated. */
  coolDownMinutes?: number
  /** Of burners: in how many parts each is counted, where canners share some; absent: whole. */
  parts?: number
  /** Of canners: such parts that one covers on the stove; absent: a whole burner's. */
  covers?: number
  /** When all of the kind can be used, where one of them says hours of its own; absent: as `aroundTheClock` says. */
  hours?: Window[]
}

export type Helper = {
  id: string
  name: string
  ageBand: AgeBand
  skills: WorkKind[]
  /** How fast: 2 does in one minute what is planned for two. */
  speed: number
  /** When he or she is there, breaks cut out, ascending and apart. */
  hours: Window[]
  /** Longest at one station without a change, in minutes; null or absent: does not tire. */
  stretchMinutes?: number | null
  /** Stations that he or she would like, and would rather not stand at; absent: no wishes. */
  likes?: Station[]
  dislikes?: Station[]
}

export const minutesOfADay = 24 * 60

export type KitchenOptions = {
  /** Breaks beside the helpers' own: minutes of the day, for one helper or for all. */
  breaks?: readonly { fromMinute: number; toMinute: number; helperId?: string; dayId?: string }[]
  counterPlaces?: number
  /** Speeds by helper's id, instead of the question's; 1 where neither says one. */
  speeds?: Readonly<Record<string, number>>
}

/**
 * The kitchen of a division's question. Helpers are there within the opening hours only, and those who may do nothing
 * are left out; freezers are room and not machines, so they are not in it.
 *
 * @throws RangeError for a speed that is not above 0, for counter places that are not a whole number of at least 1 and
 *   for dates that are not ISO dates
 */
export function kitchenOf(question: Question, options: KitchenOptions = {}): Kitchen {
  const { counterPlaces = null, speeds = {} } = options
  if (counterPlaces !== null && !(Number.isSafeInteger(counterPlaces) && counterPlaces >= 1)) {
    throw new RangeError(`${counterPlaces} is no number of places at the counter`)
  }
  const days = workDays(question.days)
  return {
    days,
    machines: machineKinds(question, days),
    counterPlaces,
    helpers: question.helpers
      .filter(({ ageBand, skills }) => allowedSkills(ageBand, skills).length > 0)
      .map(({ id, name, ageBand, skills, hours, breaks = [], speed = 1, stretchMinutes, likes, dislikes }) => ({
        id,
        name,
        ageBand,
        skills: allowedSkills(ageBand, skills),
        speed: speedOf(speeds[id] ?? speed),
        hours: merged(
          days.flatMap((day) =>
            cutOut(
              hours.filter(({ dayId }) => dayId === day.id).map((span) => within(day, span)),
              [
                ...breaks.filter(({ dayId }) => dayId === day.id).map((span) => onAxis(day, span)),
                ...breaksOf(options, id, day),
              ],
            ),
          ),
        ),
        stretchMinutes: stretchMinutes ?? null,
        likes: likes ?? [],
        dislikes: dislikes ?? [],
      })),
  }
}

/** Work days in order on the minute axis. */
export function workDays(days: readonly KitchenDay[]): WorkDay[] {
  const first = days[0]
  if (!first) return []
  return days.map(({ id, date, opensMinute, closesMinute }) => {
    const midnight = daysBetween(first.date, date) * minutesOfADay
    return { id, date, midnight, opens: midnight + opensMinute, closes: midnight + closesMinute }
  })
}

/** A minute of the axis as the date and the minute of that day in the co-op's zone; null without work days. */
export function clockOf({ days }: Pick<Kitchen, 'days'>, minute: number): { date: string; minuteOfDay: number } | null {
  const first = days[0]
  if (!first) return null
  const day = Math.floor(minute / minutesOfADay)
  return { date: dateAfter(first.date, day), minuteOfDay: minute - day * minutesOfADay }
}

/** The part of a day's minutes, as spans on the axis, in which the kitchen is open. May be empty. */
function within(day: WorkDay, { fromMinute, toMinute }: { fromMinute: number; toMinute: number }): Window {
  return {
    from: Math.max(day.opens, day.midnight + fromMinute),
    to: Math.min(day.closes, day.midnight + toMinute),
  }
}

function breaksOf({ breaks = [] }: KitchenOptions, helper: string, day: WorkDay): Window[] {
  return breaks
    .filter(({ helperId, dayId }) => (helperId ?? helper) === helper && (dayId ?? day.id) === day.id)
    .map((span) => onAxis(day, span))
}

function onAxis({ midnight }: WorkDay, { fromMinute, toMinute }: { fromMinute: number; toMinute: number }): Window {
  return { from: midnight + fromMinute, to: midnight + toMinute }
}

function speedOf(speed: number): number {
  if (!(speed > 0 && Number.isFinite(speed))) throw new RangeError(`a helper's speed is above 0, not ${speed}`)
  return speed
}

/**
 * Machines by kind. Where only some of a kind may run at night all of them are planned within the opening hours: the
 * kinds are counted, not told apart, and this promises nothing that one of them cannot do.
 */
function machineKinds({ equipment, days: asked }: Question, days: readonly WorkDay[]): MachineKind[] {
  const kinds = [...new Set(equipment.map(({ kind }) => kind))].filter((kind) => kind !== 'freezer')
  const stove = burnerParts(equipment)
  return kinds.map((kind) => {
    const all = equipment.filter((machine) => machine.kind === kind && machine.count > 0)
    return {
      kind,
      aroundTheClock: all.every(({ aroundTheClock }) => aroundTheClock),
      countByDay: days.map((_, number) =>
        all.reduce((sum, { count, outOn }) => sum + (outOn.includes(asked[number]?.id ?? '') ? 0 : count), 0),
      ),
      ...longestOf('comeUpMinutes', all),
      ...longestOf('coolDownMinutes', all),
      ...hoursOfAll(all, days),
      ...onStove(kind, stove),
    }
  })
}

/** What is to be told of burners and canners: nothing where each canner stands on a burner of its own. */
function onStove(kind: EquipmentKind, { parts, covered }: BurnerParts): Pick<MachineKind, 'parts' | 'covers'> {
  if (kind === 'burner') return parts === 1 ? {} : { parts }
  const canner = canners.find((one) => one === kind)
  return canner === undefined || covered[canner] === parts ? {} : { covers: covered[canner] }
}

function longestOf<K extends 'comeUpMinutes' | 'coolDownMinutes'>(
  key: K,
  all: readonly EquipmentOnHand[],
): Partial<Record<K, number>> {
  const stated = all.flatMap(({ [key]: minutes }) => (minutes === undefined ? [] : [minutes]))
  return stated.length === 0 ? {} : ({ [key]: Math.max(...stated) } as Record<K, number>)
}

/** The hours of every work day in which each of some machines can be used; nothing where none has hours of its own. */
function hoursOfAll(all: readonly EquipmentOnHand[], days: readonly WorkDay[]): { hours?: Window[] } {
  if (all.every(({ fromMinute, toMinute }) => fromMinute === undefined && toMinute === undefined)) return {}
  const hours = days.map((day) => {
    const each = all.map(({ aroundTheClock, fromMinute = 0, toMinute = minutesOfADay }) =>
      aroundTheClock ? onAxis(day, { fromMinute, toMinute }) : within(day, { fromMinute, toMinute }),
    )
    return { from: Math.max(...each.map(({ from }) => from)), to: Math.min(...each.map(({ to }) => to)) }
  })
  return { hours: merged(hours) }
}
