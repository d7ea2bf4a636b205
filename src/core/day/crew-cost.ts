import type { Helper } from './kitchen.ts'
import { minutesOfADay } from './kitchen.ts'
import type { TimetablePlan } from './plan.ts'
import { minutesThere, type Post } from './posts.ts'
import { stretchesOf } from './wishes.ts'

/**
 * What counts against a choice of people, in the order of weight. A minute of a stretch beyond what a helper can bear;
 * a minute where he or she would rather not stand, less half of one where he or she likes to; a piece of work handed
 * over; and work that is not as even as the hours, in minutes. Our choice.
 */
const weights = { tooLong: 20, disliked: 4, liked: -2, handOver: 15, uneven: 0.25 } as const

/** Work of one line at one time; `after`: the latest of its line on that day that was over by then. */
export type Turn = { posts: number[]; after: number | null }

/** The work of a timetable and what people wish, to be asked what a choice of people costs. */
export class CrewCost {
  readonly days: number
  readonly turns: Turn[]
  /** The turn of each post, and those that come after each turn. */
  readonly turnOf: number[]
  readonly next: number[][]
  private readonly posts: readonly Post[]
  private readonly wishes: (Helper | undefined)[]
  private readonly there: number[]

  constructor(plan: TimetablePlan, posts: readonly Post[]) {
    this.posts = posts
    this.days = 1 + Math.max(0, ...posts.map(dayOf))
    this.wishes = (plan.problem.people ?? []).map(({ id }) => plan.kitchen.helpers.find((one) => one.id === id))
    this.there = minutesThere(plan)
    this.turns = turnsOf(posts)
    this.turnOf = posts.map(() => 0)
    this.next = this.turns.map(() => [])
    this.turns.forEach(({ posts: own, after }, turn) => {
      for (const post of own) this.turnOf[post] = turn
      if (after !== null) this.next[after]?.push(turn)
    })
  }

  /** Of everything, with each post at the person it names. */
  all(): number {
    const people = this.wishes.map((_, person) => person)
    const own = (person: number) => this.posts.flatMap((one, post) => (one.person === person ? [post] : []))
    return (
      people.reduce((sum, person) => {
        const days = Array.from({ length: this.days }, (_, day) => own(person).filter((post) => this.day(post) === day))
        const worked = own(person).reduce((minutes, post) => minutes + (this.posts[post]?.minutes ?? 0), 0)
        return sum + this.ofWork(person, worked) + days.reduce((a, posts) => a + this.ofDay(person, posts), 0)
      }, 0) + this.turns.reduce((sum, _, turn) => sum + this.ofTurn(turn), 0)
    )
  }

  day(post: number): number {
    const found = this.posts[post]
    return found ? dayOf(found) : 0
  }

  /** Of one person's posts on one day: stretches and stations. */
  ofDay(person: number, posts: readonly number[]): number {
    const helper = this.wishes[person]
    if (!helper) return 0
    const { stretchMinutes, likes = [], dislikes = [] } = helper
    const longest = stretchMinutes ?? Number.POSITIVE_INFINITY
    if (longest === Number.POSITIVE_INFINITY && likes.length + dislikes.length === 0) return 0
    const stands = posts.flatMap((post) => this.posts[post]?.stands ?? [])
    let cost = 0
    for (const { from, to, station } of stands) {
      if (station === null) continue
      if (dislikes.includes(station)) cost += weights.disliked * (to - from)
      if (likes.includes(station)) cost += weights.liked * (to - from)
    }
    if (longest === Number.POSITIVE_INFINITY) return cost
    for (const { from, to } of stretchesOf(stands)) cost += weights.tooLong * Math.max(0, to - from - longest)
    return cost
  }

  /** Of a person's minutes of work; the sum is least where all work the same part of their hours. */
  ofWork(person: number, minutes: number): number {
    return (weights.uneven * minutes * minutes) / Math.max(1, this.there[person] ?? 1)
  }

  /** Of who leaves a line before a turn of it. */
  ofTurn(turn: number): number {
    const found = this.turns[turn]
    const before = found?.after == null ? undefined : this.turns[found.after]
    if (!found || !before) return 0
    const [now, then] = [this.crewOf(found), this.crewOf(before)]
    const stay = [...now].filter((person) => then.has(person)).length
    return weights.handOver * (Math.min(now.size, then.size) - stay)
  }

  private crewOf({ posts }: Turn): Set<number> {
    return new Set(posts.flatMap((post) => this.posts[post]?.person ?? []))
  }
}

function dayOf({ stands }: Post): number {
  return Math.floor((stands[0]?.from ?? 0) / minutesOfADay)
}

function turnsOf(posts: readonly Post[]): Turn[] {
  const byTurn = new Map<string, { line: string; from: number; to: number; posts: number[] }>()
  posts.forEach((post, number) => {
    const [from, to] = [post.stands[0]?.from ?? 0, post.stands.at(-1)?.to ?? 0]
    const key = `${post.line} ${post.activity}`
    const turn = byTurn.get(key) ?? { line: post.line, from, to, posts: [] }
    turn.posts.push(number)
    turn.from = Math.min(turn.from, from)
    turn.to = Math.max(turn.to, to)
    byTurn.set(key, turn)
  })
  const all = [...byTurn.values()]
  const day = (minute: number) => Math.floor(minute / minutesOfADay)
  return all.map(({ line, from, posts: own }) => {
    let after: number | null = null
    all.forEach((other, number) => {
      if (other.line !== line || other.to > from || day(other.from) !== day(from)) return
      if (after === null || other.to > (all[after]?.to ?? 0)) after = number
    })
    return { posts: own, after }
  })
}
