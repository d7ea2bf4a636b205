import { z } from 'zod'
import { choice, neededText, optionalText, read } from '../../../web/forms.ts'
import { personRoles } from '../../../web/roles.ts'
import { optionalMail } from '../../accounts/index.ts'
import { passwordAgainText } from '../forms.ts'
import { invitationDays } from './queries.ts'

/** The choice that is no household; with its colon never one of theirs. */
export const NEW_HOUSEHOLD = 'household:new'

const days = () =>
  read<number>((typed) => {
    const found = invitationDays.find((one) => String(one) === typed)
    return found === undefined ? { problem: 'Choose how long the link holds' } : { value: found }
  })

/** What every link is made from. */
const sealing = { mail: optionalMail(), password: passwordAgainText() }

/** @param householdIds those that may be chosen */
export const invitationForm = (householdIds: readonly string[]) =>
  z.object({
    forName: neededText('Enter whom the invitation is for', 80),
    role: choice(personRoles, 'Choose a role'),
    /** null: a new one */
    household: read<string | null>((typed) => {
      if (typed === NEW_HOUSEHOLD) return { value: null }
      const id = householdIds.find((one) => one === typed)
      return id === undefined ? { problem: 'Choose the household' } : { value: id }
    }),
    newHousehold: optionalText(80),
    days: days(),
    ...sealing,
  })

export const memberInvitationForm = z.object({ days: days(), ...sealing })
export const resetForm = z.object(sealing)
