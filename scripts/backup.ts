// Makes a backup: `npm run backup -- [FILE]`. See src/keeping/commands.ts.
import { backupCommand } from '../src/keeping/commands.ts'

process.exitCode = await backupCommand(process.argv.slice(2), process.env, console.log)
