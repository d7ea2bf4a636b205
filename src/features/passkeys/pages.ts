import type { CoopWays } from '../../web/asking.ts'
import { formModel, passwordField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { accountPath } from '../accounts/paths.ts'
import { passkeyOptionsPath, passkeyRemovalPath, passkeysPath } from './paths.ts'
import type { Passkey } from './queries.ts'

/** @param holder null: whoever asks has no account, so that there is nothing to bind a passkey to */
export function passkeysPage(
  passkeys: readonly Passkey[],
  holder: { hasPassword: boolean } | null,
  form: TypedForm,
  { script, coop }: { script: string; coop: CoopWays },
) {
  const format = formatFor(coop)
  return {
    title: 'Passkeys',
    place: null,
    action: passkeysPath(),
    options: passkeyOptionsPath(),
    back: accountPath(),
    script,
    hasAccount: holder !== null,
    hasPassword: holder?.hasPassword === true,
    rows: passkeys.map(({ id, name, createdAt, lastUsedAt }) => ({
      name,
      made: format.instant(createdAt),
      used: lastUsedAt === null ? 'never' : format.instant(lastUsedAt),
      removal: passkeyRemovalPath(id),
    })),
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'What it is called', hint: 'By the device: “My telephone”' }),
        ...(holder?.hasPassword === true
          ? {
              password: passwordField(form, {
                name: 'password',
                label: 'Your password',
                hint: 'So that nobody adds a passkey at a device that you left open',
                autocomplete: 'current-password',
              }),
            }
          : {}),
      },
      form,
    ),
  }
}
