import type { ScheduleRule } from '../../../src/core/scheduling/check.ts'
import type { Schedule, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'

/** A small kitchen: jam is cut, cooked and canned in one go, the canner is then used again. */
export const kitchen: SchedulingProblem = {
  resources: [
    { id: 'burner', capacity: 2 },
    {
      id: 'canner',
      capacity: 1,
      calendar: [
        { from: 0, to: 100 },
        { from: 200, to: 300 },
      ],
    },
  ],
  people: [
    { id: 'ada', skills: ['cut', 'stove'] },
    { id: 'ben', skills: ['cut'], calendar: [{ from: 0, to: 60 }] },
    { id: 'cy', skills: ['stove', 'pressure'] },
  ],
  activities: [
    {
      id: 'jam',
      phases: [
        { minutes: 20, people: [{ skill: 'cut', count: 2 }] },
        { minutes: 30, resources: { burner: 1 }, people: [{ skill: 'stove', count: 1 }] },
        { minutes: 25, resources: { burner: 1, canner: 1 } },
      ],
      due: 70,
      weight: 2,
    },
    {
      id: 'beans',
      phases: [
        {
          minutes: 40,
          resources: { canner: 1, burner: 1 },
          people: [
            { skill: 'pressure', count: 1 },
            { skill: 'stove', count: 1 },
          ],
        },
      ],
      earliest: 60,
      due: 300,
    },
    { id: 'labels', phases: [{ minutes: 10, people: [{ skill: 'cut', count: 1 }] }], after: [{ id: 'jam', lag: 15 }] },
    { id: 'done', phases: [{ minutes: 0 }], after: [{ id: 'beans' }, { id: 'labels' }] },
  ],
}

/** A schedule of it, worked out by hand. */
export const good: Schedule = {
  start: { jam: 0, beans: 200, labels: 90, done: 240 },
  people: { jam: [['ben', 'ada'], ['ada'], []], beans: [['ada', 'cy']], labels: [['ada']], done: [[]] },
  makespan: 240,
  lowerBound: 240,
  lateness: 10,
  schedulesTried: 3,
}

type Damage = (schedule: Schedule, problem: SchedulingProblem) => void

function activity(problem: SchedulingProblem, id: string) {
  const found = problem.activities.find((one) => one.id === id)
  if (!found) throw new Error(`no ${id}`)
  return found
}

/** A damage to the schedule or its problem; the rule that it is meant to break; what else it must break with it. */
export const damages: [ScheduleRule, string, Damage, ...ScheduleRule[]][] = [
  ['missing', 'an activity without a start', (s) => delete s.start['labels']],
  ['missing', 'an activity without people', (s) => delete s.people['done']],
  ['missing', 'a phase without its list', (s) => s.people['jam']?.pop()],
  [
    'unknown',
    'a start of nothing',
    (s) => {
      s.start['pickles'] = 0
    },
  ],
  [
    'unknown',
    'people for nothing',
    (s) => {
      s.people['pickles'] = [['ada']]
    },
  ],
  [
    'unknown',
    'nobody of that name',
    (s) => {
      s.people['labels'] = [['zoe']]
    },
    'count',
  ],
  [
    'unknown',
    'a name that every object has',
    (s) => {
      s.start['constructor'] = 0
    },
  ],
  [
    'unknown',
    'a resource that is not there',
    (_, p) => {
      activity(p, 'labels').phases = [{ minutes: 10, resources: { oven: 1 }, people: [{ skill: 'cut', count: 1 }] }]
    },
  ],
  [
    'whole',
    'half a minute',
    (s) => {
      s.start['labels'] = 90.5
    },
  ],
  [
    'whole',
    'no number',
    (s) => {
      s.start['done'] = Number.NaN
    },
  ],
  [
    'whole',
    'before the start',
    (s) => {
      s.start['jam'] = -1
    },
    'person-calendar',
  ],
  [
    'earliest',
    'too early',
    (_, p) => {
      activity(p, 'beans').earliest = 201
    },
  ],
  [
    'precedence',
    'inside the lag',
    (s) => {
      s.start['labels'] = 89
    },
  ],
  [
    'precedence',
    'before the end',
    (s) => {
      s.start['done'] = 239
    },
  ],
  [
    'capacity',
    'two in one canner',
    (s, p) => {
      activity(p, 'done').phases = [{ minutes: 5, resources: { canner: 1 } }]
      activity(p, 'done').after = []
      s.start['done'] = 239
    },
    'makespan',
  ],
  [
    'calendar',
    'a canner that stands idle',
    (s) => {
      s.start['beans'] = 130
      s.start['done'] = 200
      s.lowerBound = 0
      s.makespan = 200
    },
  ],
  [
    'calendar',
    'across two windows',
    (_, p) => {
      p.resources[1] = {
        id: 'canner',
        capacity: 1,
        calendar: [
          { from: 0, to: 60 },
          { from: 60, to: 300 },
        ],
      }
    },
  ],
  [
    'person-twice',
    'one for two',
    (s) => {
      s.people['jam'] = [['ada', 'ada'], ['ada'], []]
    },
    'count',
  ],
  [
    'count',
    'one too few',
    (s) => {
      s.people['jam'] = [['ada'], ['ada'], []]
    },
  ],
  [
    'count',
    'one too many',
    (s) => {
      s.people['labels'] = [['ada', 'cy']]
    },
  ],
  [
    'skill',
    'the wrong hands',
    (s) => {
      s.people['labels'] = [['cy']]
    },
  ],
  ['skill', 'two skills in one person', (_, p) => p.people?.splice(0, 1, { id: 'ada', skills: ['cut', 'pressure'] })],
  [
    'person-calendar',
    'gone home',
    (s) => {
      s.people['labels'] = [['ben']]
    },
  ],
  [
    'two-places',
    'here and there',
    (s, p) => {
      p.activities.push({ id: 'wash', phases: [{ minutes: 60, people: [{ skill: 'cut', count: 1 }] }] })
      s.start['wash'] = 0
      s.people['wash'] = [['ada']]
    },
  ],
  [
    'makespan',
    'shorter than it is',
    (s) => {
      s.makespan = 239
      s.lowerBound = 239
    },
  ],
  [
    'lateness',
    'less than it is',
    (s) => {
      s.lateness = 5
    },
  ],
  [
    'bound',
    'above the makespan',
    (s) => {
      s.lowerBound = 241
    },
  ],
  [
    'bound',
    'no number',
    (s) => {
      s.lowerBound = Number.NaN
    },
  ],
  [
    'tried',
    'half a pass',
    (s) => {
      s.schedulesTried = 0.5
    },
  ],
]
