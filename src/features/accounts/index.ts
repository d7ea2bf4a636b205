export { newAccountFields, optionalMail, signInName } from './forms.ts'
export { ownPasswordProblem } from './own-password.ts'
export { passwordHint, passwordProblem } from './password-rules.ts'
export { hashPassword, isPassword } from './passwords.ts'
export { accountPath } from './paths.ts'
export {
  createAccount,
  findAccount,
  findOwnAccount,
  findOwnPasswordHash,
  type NewAccount,
  setPassword,
} from './queries.ts'
export { network } from './signing-in.ts'
