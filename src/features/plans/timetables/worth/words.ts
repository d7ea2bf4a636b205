import type { Help, HelpWorth } from '../../../../core/agreement/index.ts'
import { askDivision, type Question } from '../../../../core/division/index.ts'
import type { CoopWays } from '../../../../web/asking.ts'
import { listed, type Names, namesOf, workWords } from '../../words.ts'

/** Helps and what they bring, as the page writes them. */
export function helpWords(question: Question, coop: CoopWays) {
  const names = namesOf(question, askDivision(question), coop)
  const { format } = names

  /** "a second canner", "an hour more on Saturday" */
  function help(of: Help): string {
    switch (of.kind) {
      case 'machine':
        return machineWords(names, of.machine)
      case 'hours':
        return `${of.minutes === 60 ? 'an hour' : format.duration(of.minutes)} more on ${names.day(of.day)}`
      case 'hands': {
        const many = of.count === 1 ? 'one more adult' : `${counted(of.count, format.number)} more adults`
        return `${many} for ${listed(of.skills.map((skill) => workWords[skill] ?? skill))}`
      }
      case 'freezer':
        return `${format.volume(of.ml)} more room in the freezer`
    }
  }

  /** "7 quarts more of Apple sauce", each by itself; fewer last. */
  function changes({ unitsChanged }: Pick<HelpWorth, 'unitsChanged'>): string[] {
    return [...unitsChanged]
      .sort((a, b) => b.units - a.units)
      .map(({ productId, units }) => {
        const many = names.units(productId, Math.abs(units))
        return `${many} ${units > 0 ? 'more' : 'fewer'} of ${names.product(productId).name}`
      })
  }

  /** When work on the produce ends: "40 min later". */
  function ends({ minutesSaved }: Pick<HelpWorth, 'minutesSaved'>): string {
    if (minutesSaved === 0) return 'at the same time'
    return `${format.duration(Math.abs(minutesSaved))} ${minutesSaved > 0 ? 'earlier' : 'later'}`
  }

  const money = (minor: number): string => format.money(Math.round(minor))
  return { help, changes, ends, money, names }
}

export type HelpWords = ReturnType<typeof helpWords>

function machineWords(names: Names, kind: string): string {
  const { one, count } = names.machine(kind)
  if (count === 0) return `${/^[aeiou]/.test(one) ? 'an' : 'a'} ${one}`
  return count === 1 ? `a second ${one}` : `one more ${one}`
}

const numbers = ['no', 'one', 'two', 'three', 'four']

function counted(many: number, write: (many: number) => string): string {
  return numbers[many] ?? write(many)
}
