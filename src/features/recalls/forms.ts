import { z } from 'zod'
import { idText } from '../../ids.ts'
import { neededText, read } from '../../web/forms.ts'
import { MOST_BATCHES } from './actions.ts'

const choose = 'Choose from the batches listed'

export const recallForm = z.object({
  batchIds: z.union([idText.transform((id) => [id]), z.array(idText)], choose).default([]),
  codes: read<string[]>((typed) => {
    const codes = [
      ...new Set(
        typed
          .toUpperCase()
          .split(/[\s,;]+/)
          .filter(Boolean),
      ),
    ]
    return codes.length > MOST_BATCHES ? { problem: `Enter ${MOST_BATCHES} codes or fewer` } : { value: codes }
  }, 2000),
  reason: neededText('Enter what is wrong, like “a lid had lifted”', 500),
  todo: neededText('Enter what people should do with their jars', 2000),
  reach: neededText('Enter how you can be reached, like a telephone number', 200),
})
export type RecallFormValues = z.output<typeof recallForm>
