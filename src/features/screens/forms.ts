import { z } from 'zod'
import { neededText, read } from '../../web/forms.ts'
import { codeTyped } from './codes.ts'

export const screenNameMost = 60

export const screenForm = z.object({ name: neededText('Enter what the screen is called', screenNameMost) })

export const pairForm = z.object({
  code: read((typed) => {
    if (typed === '') return { problem: 'Enter the code' }
    const code = codeTyped(typed)
    return code === null
      ? { problem: 'A code has 8 letters and digits; 0, 1, 2, 5, 8 and B, I, L, O, S, Z are never among them' }
      : { value: code }
  }, 40),
})
