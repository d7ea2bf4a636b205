import type { Schedule } from '../scheduling/problem.ts'
import { CrewCost } from './crew-cost.ts'
import type { TimetablePlan } from './plan.ts'
import { type Post, postsOf, withPosts } from './posts.ts'

/** Changes of people that are tried at most; days of 150 tasks in all take some hundreds. */
const mostTrials = 20_000
/** A gain smaller than this is one of rounding. */
const least = 1e-6

/**
 * The same schedule with the people chosen anew, by what they wish: nobody longer at one station than he or she can bear
 * if somebody can relieve him or her, rather at stations that they like than at others, the same person going on with the
 * same work, and even work by the hours that each is there. Starts and machines stay, and so does all that a schedule
 * must hold: skills, also those by which an edit names somebody, hours and breaks, nobody in two places. Whoever has a
 * place in several phases of a task keeps it in all of them or gives it up in all of them.
 *
 * Posts are given away and exchanged for as long as that is better, in a fixed order, so that the same schedule gives the
 * same people; it is never worse than it was. What is still not met says `wishesNotMet`.
 *
 * @throws RangeError for a schedule that does not hold in its people
 */
export function withBestCrews(plan: TimetablePlan, schedule: Schedule): Schedule {
  const posts = postsOf(plan, schedule)
  new Exchange(plan, posts).run()
  return withPosts(plan, schedule, posts)
}

/** What the people of a schedule cost in wishes that are not met; only differences between two mean anything. */
export function crewCost(plan: TimetablePlan, schedule: Schedule): number {
  return new CrewCost(plan, postsOf(plan, schedule)).all()
}

class Exchange {
  private readonly posts: readonly Post[]
  private readonly cost: CrewCost
  private readonly people: number
  /** Whether a person may have a post: by skill and hours. */
  private readonly may: boolean[][]
  /** Posts that nobody can have at the same time as this one. */
  private readonly beside: number[][]
  private readonly minutes: number[]
  private trials = 0

  constructor(plan: TimetablePlan, posts: readonly Post[]) {
    const people = plan.problem.people ?? []
    this.posts = posts
    this.people = people.length
    this.cost = new CrewCost(plan, posts)
    this.may = posts.map(({ skill, stands }) =>
      people.map(
        ({ skills, calendar }) =>
          skills.includes(skill) &&
          stands.every(({ from, to }) => !calendar || calendar.some((one) => one.from <= from && to <= one.to)),
      ),
    )
    this.beside = posts.map((post, number) =>
      posts.flatMap((other, place) => (place !== number && together(post, other) ? [place] : [])),
    )
    this.minutes = people.map((_, person) =>
      posts.reduce((sum, post) => (post.person === person ? sum + post.minutes : sum), 0),
    )
  }

  run(): void {
    for (let better = true; better && this.trials < mostTrials; ) {
      better = false
      for (let post = 0; post < this.posts.length; post++) {
        for (const given of this.parcelsFrom(post)) {
          for (let to = 0; to < this.people; to++) if (this.give(given, to)) better = true
        }
      }
    }
  }

  /** The post alone, with what its person goes on with after it, and with all that he or she has of that line. */
  private parcelsFrom(post: number): number[][] {
    const { person, line } = this.posts[post] ?? { person: -1, line: '' }
    const day = this.cost.day(post)
    const own = this.posts.flatMap((one, number) =>
      one.person === person && one.line === line && this.cost.day(number) === day ? [number] : [],
    )
    if (own.length < 2) return [[post]]
    const from = this.posts[post]?.stands[0]?.from ?? 0
    const later = own.filter((one) => (this.posts[one]?.stands[0]?.from ?? 0) >= from)
    return [
      [post],
      ...(later.length > 1 ? [later] : []),
      ...(own[0] === post && later.length < own.length ? [own] : []),
    ]
  }

  /** Gives posts of one person to another, who gives back whatever is at the same time; undone unless it is better. */
  private give(given: readonly number[], to: number): boolean {
    const from = this.posts[given[0] ?? -1]?.person ?? to
    if (from === to || this.trials >= mostTrials) return false
    if (given.some((post) => this.posts[post]?.person !== from || !this.may[post]?.[to])) return false
    const back = [...new Set(given.flatMap((post) => this.beside[post] ?? []))].filter(
      (post) => this.posts[post]?.person === to,
    )
    if (back.some((post) => !this.may[post]?.[from])) return false
    const busy = (post: number) =>
      this.beside[post]?.some((other) => this.posts[other]?.person === from && !given.includes(other))
    if (back.some(busy)) return false
    this.trials++
    const moved = [...given, ...back]
    const days = [...new Set(moved.map((post) => this.cost.day(post)))]
    const turns = [...new Set(moved.flatMap((post) => this.turnsBy(post)))]
    const before = this.costOf([from, to], days, turns)
    this.move(given, to)
    this.move(back, from)
    if (this.costOf([from, to], days, turns) < before - least) return true
    this.move(given, from)
    this.move(back, to)
    return false
  }

  private move(posts: readonly number[], to: number): void {
    for (const number of posts) {
      const post = this.posts[number]
      if (!post) continue
      this.minutes[post.person] = (this.minutes[post.person] ?? 0) - post.minutes
      this.minutes[to] = (this.minutes[to] ?? 0) + post.minutes
      post.person = to
    }
  }

  private turnsBy(post: number): number[] {
    const turn = this.cost.turnOf[post] ?? 0
    return [turn, ...(this.cost.next[turn] ?? [])]
  }

  private costOf(people: readonly number[], days: readonly number[], turns: readonly number[]): number {
    let sum = 0
    for (const person of people) {
      sum += this.cost.ofWork(person, this.minutes[person] ?? 0)
      for (const day of days) sum += this.cost.ofDay(person, this.ownOn(person, day))
    }
    for (const turn of turns) sum += this.cost.ofTurn(turn)
    return sum
  }

  private ownOn(person: number, day: number): number[] {
    return this.posts.flatMap((post, number) =>
      post.person === person && this.cost.day(number) === day ? [number] : [],
    )
  }
}

function together(one: Post, other: Post): boolean {
  if (one.activity === other.activity && one.phases.some((phase) => other.phases.includes(phase))) return true
  return one.stands.some((a) => other.stands.some((b) => a.from < b.to && b.from < a.to))
}
