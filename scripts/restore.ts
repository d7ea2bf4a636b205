// Puts a backup back: `npm run restore -- FILE [--replace]`. See src/keeping/commands.ts.
import { restoreCommand } from '../src/keeping/commands.ts'

process.exitCode = await restoreCommand(process.argv.slice(2), process.env, console.log)
