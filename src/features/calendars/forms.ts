import { z } from 'zod'
import { read } from '../../web/forms.ts'

/** The choice that is no helper; with its colon never one of theirs. */
export const SLOW_JOBS = 'jobs:slow'
export const helperValue = (id: string): string => `helper:${id}`

/** @param helperIds those who may be chosen */
export const calendarForm = (helperIds: readonly string[]) =>
  z.object({
    /** null: slow jobs */
    helperId: read<string | null>((typed) => {
      if (typed === SLOW_JOBS) return { value: null }
      const id = helperIds.find((one) => helperValue(one) === typed)
      return id === undefined ? { problem: 'Choose whose work it shows' } : { value: id }
    }),
  })
