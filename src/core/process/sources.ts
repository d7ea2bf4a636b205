import { sources } from '../produce/sources.ts'

/** The documents that process figures come from, beside those that crops already name. */
export const processSources = {
  ...sources,
  'so-easy': {
    document: 'So Easy to Preserve, Bulletin 989',
    edition: '5th edition 2006, 6th edition 2014',
    publisher: 'University of Georgia Cooperative Extension',
  },
  'national-center': {
    document: 'National Center for Home Food Preservation, fact sheets',
    edition: 'web edition',
    publisher: 'University of Georgia Cooperative Extension',
  },
  'msu-preserving': {
    document: 'Preserving Food Safely, sheets that carry the tables of the USDA guide of 1994',
    edition: '1997',
    publisher: 'Michigan State University Extension',
  },
  'usda-1994': {
    document: 'USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539',
    edition: 'revised 1994, as reprinted',
    publisher: 'USDA Extension Service',
  },
  'usda-1977': {
    document: 'Canning, Freezing, Storing Garden Produce, Agriculture Information Bulletin No. 410',
    edition: '1977',
    publisher: 'USDA',
  },
  'steam-canners': {
    document: 'Using Atmospheric Steam Canners',
    edition: 'web edition',
    publisher: 'National Center for Home Food Preservation and University of Wisconsin',
  },
  'georgia-drying': {
    document: 'So Easy to Preserve Drying Guide, Drying Fruits at Home',
    edition: 'web edition',
    publisher: 'University of Georgia Cooperative Extension',
  },
  'colorado-drying': {
    document: 'Drying Vegetables, 9.308',
    edition: 'as reproduced',
    publisher: 'Colorado State University Extension',
  },
  'ndsu-drying': {
    document: 'Fruit leather and oven drying',
    edition: 'web edition',
    publisher: 'North Dakota State University Extension',
  },
  'sdsu-drying': {
    document: 'Extend the Life of Your Produce: Dry Your Food',
    edition: '2019',
    publisher: 'South Dakota State University Extension',
  },
  'dryer-maker': {
    document: 'Guide of a dehydrator maker, drying at 135 °F',
    edition: 'owner manual',
    publisher: 'maker',
  },
  'freezer-maker': {
    document: 'Use guide of a freezer maker that quotes the USDA loading rule',
    edition: 'owner manual',
    publisher: 'maker',
  },
  'delaware-freezing': {
    document: 'Freezing Fruits',
    edition: 'web edition',
    publisher: 'University of Delaware Cooperative Extension',
  },
  'kentucky-freezing': {
    document: 'FCS3-336 Freezing Fresh Fruits',
    edition: 'web edition',
    publisher: 'University of Kentucky Cooperative Extension',
  },
  'usda-freezing': {
    document: 'Home Freezing of Fruits and Vegetables, Home and Garden Bulletin No. 10',
    edition: 'as taken up by the National Center for Home Food Preservation',
    publisher: 'USDA',
  },
  'ohio-vinegar': {
    document: 'HYG-5346-09 Making Cider Vinegar at Home',
    edition: '2009',
    publisher: 'Ohio State University Extension',
  },
  'fda-vinegar': {
    document: 'Compliance Policy Guide Sec. 525.825, Vinegar, Definitions',
    edition: '1995',
    publisher: 'US FDA',
  },
  'cfr-114': {
    document: '21 CFR Part 114, Acidified Foods, section 114.3',
    edition: 'current',
    publisher: 'US FDA',
  },
  'iso-2533': {
    document: 'ISO 2533 Standard Atmosphere; the same model as the US Standard Atmosphere 1976',
    edition: '1975',
    publisher: 'ISO; NOAA, NASA and USAF',
  },
  'iapws-if97': {
    document: 'IAPWS Industrial Formulation 1997 for the Thermodynamic Properties of Water and Steam, region 4',
    edition: 'revised release 2007',
    publisher: 'International Association for the Properties of Water and Steam',
  },
  'fair-sheets': {
    document: 'Extension sheets on home food preservation',
    edition: 'various',
    publisher: 'state extension services',
  },
} as const

export type ProcessSourceId = keyof typeof processSources

/**
 * Where a figure comes from. `seen`: read in the source, or in a copy that the note names. `memory`: known but not read
 * again, to be checked in an edition at hand before anything depends on it. `practice`: common practice or a rule of
 * ours, no published figure.
 */
export type Citation = {
  document: ProcessSourceId
  section?: string
  confidence: 'seen' | 'memory' | 'practice'
  note?: string
}

export function seen(document: ProcessSourceId, section?: string, note?: string): Citation {
  return cite(document, 'seen', section, note)
}

export function memory(document: ProcessSourceId, section?: string, note?: string): Citation {
  return cite(document, 'memory', section, note)
}

export function practice(note: string): Citation {
  return cite('fair-sheets', 'practice', undefined, note)
}

function cite(
  document: ProcessSourceId,
  confidence: Citation['confidence'],
  section?: string,
  note?: string,
): Citation {
  return {
    document,
    confidence,
    ...(section === undefined ? {} : { section }),
    ...(note === undefined ? {} : { note }),
  }
}
