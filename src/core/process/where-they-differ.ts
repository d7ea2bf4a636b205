import { type Citation, memory, practice, seen } from './sources.ts'

/** One matter in which common practice, or an older or other source, differs from what was tested. */
export type Difference = {
  topic: string
  /** What is often done or printed. */
  practice: string
  /** What the tested directions say. */
  tested: string
  /** What is done here. */
  weDo: string
  source: Citation
}

const guide = (section: string, note?: string) => seen('usda-2015', section, note)

const differences: readonly Difference[] = [
  {
    topic: 'flour, cornstarch, tapioca or arrowroot in fillings',
    practice: 'Fillings are thickened before they go into the jar.',
    tested: 'Only cook-type modified starch, in the published amount; the lemon juice stays as it is.',
    weDo: 'A filling with another starch, or with more of the modified one, is no tested process here.',
    source: guide('Guide 2 p. 2-25, 2-26'),
  },
  {
    topic: 'thickened salsa and soup',
    practice: 'Flour, starch, rice or noodles go in before canning.',
    tested: 'They go in when the jar is opened.',
    weDo: 'Refused.',
    source: guide('Guide 3 p. 3-21; Guide 4 p. 4-18'),
  },
  {
    topic: 'pears packed raw',
    practice: 'Older charts give 25 and 30 minutes for a raw pack.',
    tested: 'Hot pack only, after 5 minutes of boiling. There is no table for a raw pack.',
    weDo: 'Refused.',
    source: guide('Guide 2 p. 2-20'),
  },
  {
    topic: 'apples packed raw',
    practice: 'Some old charts have a time for it.',
    tested: 'Hot pack only.',
    weDo: 'Refused.',
    source: guide('Guide 2 p. 2-7'),
  },
  {
    topic: 'peaches packed raw',
    practice: 'Taken for as good as a hot pack.',
    tested: 'Allowed by its own lines, 5 minutes longer; they darken within 2 to 3 months.',
    weDo: 'The raw pack has its own time; where no pack is named, the longer one is shown first.',
    source: guide('Guide 2 p. 2-19; Guide 1 p. 1-12'),
  },
  {
    topic: 'times of older charts',
    practice: 'Sliced apples 15 minutes, purees 10, figs 80 and 90 without acid.',
    tested: 'Apples 20, purees 15, figs 45 and 50 with bottled lemon juice or citric acid.',
    weDo: 'The table of 2015 counts.',
    source: guide('Guide 2 p. 2-7, 2-14', 'against older charts still passed on'),
  },
  {
    topic: 'open kettle, oven, dishwasher and microwave',
    practice: 'Still passed on as ways to close jars.',
    tested: 'None of them stops spoilage.',
    weDo: 'Refused.',
    source: guide('Guide 1 p. 1-10'),
  },
  {
    topic: 'drying in an oven',
    practice: 'Taken for as good as a dehydrator.',
    tested:
      'It takes two to three times as long, needs 140 to 145 °F (60 to 63 °C) and a door ajar, and many ovens do not go so low.',
    weDo: 'Times for the oven stand apart, with a warning where small children are about.',
    source: seen('ndsu-drying', undefined, 'and the sheet of South Dakota State of 2019'),
  },
  {
    topic: 'steam canners',
    practice: 'The guide of 2015 advises against them.',
    tested:
      'Later research allows them for food at pH 4.6 or below, with the times for boiling water up to 45 minutes.',
    weDo: 'Allowed within that limit, in half-pints, pints and quarts.',
    source: seen('steam-canners', undefined, 'against Guide 1 p. 1-10 of the USDA guide of 2015'),
  },
  {
    topic: 'elderberries',
    practice: 'The guide of 2015 lists them with the berries.',
    tested: 'Later measurements put them above pH 4.6: not in recipes tested for other berries.',
    weDo: 'Refused, juice and jelly too.',
    source: seen('fair-sheets', 'Maine 2020; Wisconsin B2909 of 2020'),
  },
  {
    topic: 'mulberries',
    practice: 'The guide of 2015 lists them with the berries.',
    tested: 'Published pH up to 5.6.',
    weDo: 'Refused: the stricter side.',
    source: seen(
      'fair-sheets',
      'low-acid fruits, 2019',
      'pH by variety; against Guide 2 p. 2-10 of the USDA guide of 2015',
    ),
  },
  {
    topic: 'white-fleshed peaches and nectarines',
    practice: 'Canned like yellow ones.',
    tested: 'Their pH can lie above 4.6, and no amount of acid was tested.',
    weDo: 'Refused: freeze them.',
    source: seen('fair-sheets', 'Minnesota 2021, white peaches'),
  },
  {
    topic: 'raw and hot pack of berries',
    practice: 'Either pack for any berry.',
    tested:
      'The guide describes the hot pack for blueberries, currants, gooseberries and huckleberries, and the raw pack for "any".',
    weDo: 'Those four hot, blackberries and raspberries and their kin raw: the narrower reading.',
    source: guide('Guide 2 p. 2-10', 'wording read in Michigan sheet 01600304'),
  },
  {
    topic: 'the flat rule for altitude',
    practice: '5, 10 and 15 minutes more by steps of altitude, whatever is in the jar.',
    tested:
      'Every product has its own steps; at 3,001 to 6,000 ft applesauce in pints takes 20 minutes, by the flat rule 25.',
    weDo: 'The table is shown, never the rule.',
    source: guide('tables', 'against the rule in jar and canner leaflets'),
  },
  {
    topic: 'altitude and jams',
    practice: '1 minute more for each 1,000 ft.',
    tested: 'The text says so too (p. 1-30), but the tables of Guide 7 step 5, 10 and 15.',
    weDo: 'The tables: they are the stricter.',
    source: guide('Guide 1 p. 1-30; Guide 7'),
  },
  {
    topic: 'salt for sauerkraut',
    practice: 'Three quarters of a cup for 25 lb (12 tablespoons).',
    tested: '3 tablespoons for each 5 lb, which is 15 for 25 lb. The guide prints both.',
    weDo: '3 tablespoons for each 5 lb: with less, the wrong microbes may win.',
    source: guide('Guide 6 p. 6-8'),
  },
  {
    topic: 'ascorbic acid against browning',
    practice: 'Half a teaspoon, 1.5 g, to the gallon in one recipe.',
    tested: '1 teaspoon, 3 g, to the gallon.',
    weDo: '3 g.',
    source: guide('Guide 1 p. 1-11; Guide 2 p. 2-30'),
  },
  {
    topic: 'how long jars keep',
    practice: '12 to 18 months, or as long as the lid holds.',
    tested: 'Best within a year.',
    weDo: '12 months.',
    source: guide('Guide 1 p. 1-11'),
  },
  {
    topic: 'wax on jelly',
    practice: 'Described in the USDA booklet of 1977.',
    tested: 'No longer: mould grows under wax and can leave poison.',
    weDo: 'Refused.',
    source: guide('Guide 1 p. 1-30', 'against the booklet of 1977'),
  },
  {
    topic: 'home-made vinegar in pickles',
    practice: 'Used because it tastes sour enough.',
    tested: 'Bought vinegar of 5 % only: the acidity of home-made vinegar is not known.',
    weDo: 'A recipe with vinegar of unknown strength is no tested process here.',
    source: guide('Guide 1 p. 1-28; Guide 3 p. 3-19'),
  },
  {
    topic: 'fresh lemon juice',
    practice: 'Taken for the same as bottled.',
    tested: 'Bottled only: its acidity is even, that of fresh juice is not.',
    weDo: 'Fresh juice does not count as the acid a process asks for.',
    source: guide('Guide 3 p. 3-19'),
  },
  {
    topic: 'tomatoes under pressure without acid',
    practice: 'Pressure is thought to make the acid unnecessary.',
    tested: 'The acid goes into every jar, pressure or not.',
    weDo: 'Asked for in both.',
    source: guide('Guide 3 p. 3-5'),
  },
  {
    topic: 'pumpkin butter and mashed squash',
    practice: 'Canned like apple butter.',
    tested: 'Cubes in a pressure canner only.',
    weDo: 'Refused: freeze them, or keep them cold.',
    source: guide('Guide 4 p. 4-18', 'that butter is meant too: national center, from memory'),
  },
  {
    topic: 'half-pints take the time of pints',
    practice: 'A general rule.',
    tested: 'So the guide says (p. 1-23), but where a table prints the sizes apart, the table counts.',
    weDo: 'The table.',
    source: guide('Guide 1 p. 1-23; Guide 7'),
  },
  {
    topic: 'pressure above 8,000 ft',
    practice: 'Some charts go on with 15 psi on a dial up to 10,000 ft.',
    tested: 'The tables for a dial gauge end at 8,000 ft.',
    weDo: 'Refused on a dial above 8,000 ft.',
    source: memory('fair-sheets', 'altitude charts'),
  },
  {
    topic: 'one load, two products',
    practice: 'Jars with different times go into the canner together for the longer one.',
    tested: 'Nothing is published on it.',
    weDo: 'A load is of one product.',
    source: practice('a rule of ours'),
  },
]

/** Where practice, older books and other sources differ from what was tested, and which side is taken here. */
export function whereTheyDiffer(): readonly Difference[] {
  return differences
}
