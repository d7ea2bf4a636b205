import type { CoopWays } from '../../web/asking.ts'
import { formModel, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { codeInHalves } from './codes.ts'
import { pairPath, screenRemovalPath, screensPath } from './paths.ts'
import type { Pairing, Screen } from './queries.ts'

export function screensPage(screens: readonly Screen[], form: TypedForm, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Kitchen screens',
    place: 'coop' as const,
    action: screensPath(),
    rows: screens.map(({ id, name, since, lastUsedAt }) => ({
      name,
      since: format.instant(since),
      used: format.instant(lastUsedAt),
      removal: screenRemovalPath(id),
    })),
    form: formModel(
      {
        name: textField(form, {
          name: 'name',
          label: 'What the screen is called',
          hint: 'By its place: “Tablet by the stove”. What is ticked there is told by this name.',
        }),
      },
      form,
    ),
  }
}

/**
 * A code that was made.
 *
 * @param code where it may be shown, else ''
 * @param address where it is typed, with the host's name
 */
export function screenCodePage(
  { name, expiresAt, usedAt }: Pairing,
  code: string,
  { now, address, coop }: { now: Date; address: string; coop: CoopWays },
) {
  const format = formatFor(coop)
  const open = usedAt === null && expiresAt > now
  return {
    title: `A code for ${name}`,
    place: 'coop' as const,
    code: open && code !== '' ? codeInHalves(code) : '',
    // for whoever listens to the page: each character by itself
    spelt: open ? [...code].join(' ') : '',
    address,
    until: format.instant(expiresAt),
    state: usedAt !== null ? `The screen was paired ${format.instant(usedAt)}.` : open ? '' : 'This code is over.',
    back: screensPath(),
  }
}

/** On the tablet. */
export function pairPage(form: TypedForm) {
  return {
    title: 'Put a kitchen screen here',
    place: null,
    action: pairPath(),
    form: formModel(
      {
        code: {
          ...textField(form, {
            name: 'code',
            label: 'Code',
            hint: '8 letters and digits; capitals or not',
            autocomplete: 'off',
          }),
          enterkeyhint: 'go',
        },
      },
      form,
    ),
  }
}
