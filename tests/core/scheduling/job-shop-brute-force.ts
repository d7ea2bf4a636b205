/** A job: the machines that it visits one after the other, each with its minutes. */
export type Job = readonly (readonly [machine: number, minutes: number])[]

/**
 * Whether the jobs can all be done by minute `end`, by trying all active schedules (Giffler and Thompson 1960, from
 * memory): of the steps that could end first, the machine of the earliest is given to each that would be ready before
 * that end. Some shortest schedule is always active, so that a no is a proof.
 */
export function canBeDoneBy(jobs: readonly Job[], end: number): boolean {
  const next = jobs.map(() => 0)
  const ready = jobs.map(() => 0)
  const free = new Map<number, number>()
  const left = jobs.map((job) => job.map((_, step) => minutesOf(job.slice(step))))

  const hopeless = (): boolean => {
    const work = new Map<number, { head: number; minutes: number; tail: number }>()
    for (const [index, job] of jobs.entries()) {
      let head = ready[index] ?? 0
      for (let step = next[index] ?? 0; step < job.length; step++) {
        const [machine = 0, minutes = 0] = job[step] ?? []
        head = Math.max(head, free.get(machine) ?? 0)
        const tail = left[index]?.[step + 1] ?? 0
        if (head + minutes + tail > end) return true
        const all = work.get(machine) ?? { head: Number.POSITIVE_INFINITY, minutes: 0, tail: Number.POSITIVE_INFINITY }
        all.head = Math.min(all.head, head)
        all.minutes += minutes
        all.tail = Math.min(all.tail, tail)
        work.set(machine, all)
        head += minutes
      }
    }
    return [...work.values()].some(({ head, minutes, tail }) => head + minutes + tail > end)
  }

  const go = (): boolean => {
    if (hopeless()) return false
    const open = jobs.flatMap((job, index) => {
      const [machine, minutes] = job[next[index] ?? 0] ?? []
      if (machine === undefined || minutes === undefined) return []
      const start = Math.max(ready[index] ?? 0, free.get(machine) ?? 0)
      return [{ index, machine, start, end: start + minutes }]
    })
    const first = open.reduce<(typeof open)[number] | null>((a, b) => (a && a.end <= b.end ? a : b), null)
    if (!first) return true
    return open
      .filter((one) => one.machine === first.machine && one.start < first.end)
      .some(({ index, machine, end: until }) => {
        const [before, idle] = [ready[index] ?? 0, free.get(machine) ?? 0]
        next[index] = (next[index] ?? 0) + 1
        ready[index] = until
        free.set(machine, until)
        const done = go()
        next[index] = (next[index] ?? 0) - 1
        ready[index] = before
        free.set(machine, idle)
        return done
      })
  }
  return go()
}

function minutesOf(job: Job): number {
  return job.reduce((sum, [, minutes]) => sum + minutes, 0)
}
