/** The documents that the figures of crops come from. */
export const sources = {
  'usda-2015': {
    document: 'USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539',
    edition: 'revised 2015',
    publisher: 'USDA National Institute of Food and Agriculture',
  },
  'georgia-weights': {
    document: 'Weights and Approximate Processed Yields for Fruits',
    edition: 'Granberry and Terry Kelley, reviewed by Coolong',
    publisher: 'University of Georgia Cooperative Extension',
  },
  'msu-apple': {
    document: 'Preserving Food Safely 01600351, Apple facts',
    edition: '1997',
    publisher: 'Michigan State University Extension',
  },
  'state-weights': {
    document: 'Legal and customary weights per bushel, state agricultural statistics',
    edition: 'as reprinted in USDA Agriculture Handbook 697',
    publisher: 'USDA Economic Research Service',
  },
  'yield-percents': {
    document: 'Baker and pastry mathematics, chapter 25 Yield Percents',
    edition: 'open textbook',
    publisher: 'Open Washington Pressbooks',
  },
  'food-buying-guide': {
    document: 'Food Buying Guide for Child Nutrition Programs',
    edition: 'current edition',
    publisher: 'USDA Food and Nutrition Service',
  },
  'produce-counts': {
    document: 'Produce weights and measures list',
    edition: 'newspaper reprint',
    publisher: 'syndicated food pages',
  },
  'fdc-portions': {
    document: 'FoodData Central, SR Legacy portion weights',
    edition: 'April 2018',
    publisher: 'USDA Agricultural Research Service',
  },
  'fda-ph': {
    document: 'Approximate pH of Foods and Food Products',
    edition: 'list of 2003, reissued 2007',
    publisher: 'US FDA, Center for Food Safety and Applied Nutrition',
  },
  'clemson-ph': {
    document: 'pH Values of Common Foods and Ingredients',
    edition: 'drawn from the FDA list',
    publisher: 'Clemson University and University of Wisconsin Extension',
  },
  'compiled-ph': {
    document: 'pH list compiled from USDA, extension and FDA lists',
    edition: '2012',
    publisher: 'reader compilation',
  },
  'ahea-ph': {
    document: 'Handbook of Food Preparation, American Home Economics Association',
    edition: '9th edition, 1993, as reproduced by the University of Idaho',
    publisher: 'American Home Economics Association',
  },
  'maine-elderberry': {
    document: 'Notice on white-fleshed peaches and nectarines, and elderberries',
    edition: 'June 2020',
    publisher: 'University of Maine Cooperative Extension',
  },
  'minnesota-peach': {
    document: 'Notice on canning white-fleshed peaches',
    edition: 'October 2021',
    publisher: 'University of Minnesota Extension',
  },
  'handbook-66-1986': {
    document: 'The Commercial Storage of Fruits, Vegetables, and Florist and Nursery Stocks, Agriculture Handbook 66',
    edition: '1986',
    publisher: 'USDA Agricultural Research Service',
  },
  'handbook-66': {
    document: 'The Commercial Storage of Fruits, Vegetables, and Florist and Nursery Stocks, Agriculture Handbook 66',
    edition: 'draft of 2004, revised 2016 (Gross, Wang, Saltveit)',
    publisher: 'USDA Agricultural Research Service',
  },
  'handbook-66-2002': {
    document: 'Produce Degradation: Reaction Pathways and their Prevention, Tables 20.1 and 20.2',
    edition: 'tables developed from the Agriculture Handbook 66 draft of 2002',
    publisher: 'CRC Press',
  },
  'handbook-66-1954': {
    document: 'Temperature requirements, storage of vegetables',
    edition: 'based on Agriculture Handbook 66, 1954',
    publisher: 'USDA Agricultural Research Service',
  },
  'new-england': {
    document: 'New England Vegetable Management Guide, Table 16, Handling produce',
    edition: 'adapted from Agriculture Handbook 66',
    publisher: 'New England Extension services',
  },
  'davis-storage': {
    document: 'Properties and recommended conditions for storage of fresh fruits and vegetables',
    edition: 'Cantwell list',
    publisher: 'University of California, Davis',
  },
  'ashrae-storage': {
    document: 'ASHRAE Handbook Refrigeration, storage requirements of vegetables, fresh fruits and melons, Table 1',
    edition: 'as reproduced 2020',
    publisher: 'ASHRAE',
  },
  'ontario-berries': {
    document: 'Postharvest Handling and Storage of Berries',
    edition: 'web edition',
    publisher: 'Ontario Ministry of Agriculture',
  },
  foodkeeper: {
    document: 'FoodKeeper open data, English',
    edition: 'USDA FSIS with Cornell University and FMI',
    publisher: 'USDA Food Safety and Inspection Service',
  },
  'extension-home': {
    document: 'Extension sheets on keeping and ripening fresh fruit and vegetables at home',
    edition: 'various',
    publisher: 'US and Canadian extension services',
  },
  'common-practice': {
    document: 'Common practice, no published figure',
    edition: 'none',
    publisher: 'none',
  },
  'respiration-rule': {
    document: 'Respiration rises two to three times for each 10 degrees (food-processing texts)',
    edition: 'general rule',
    publisher: 'textbooks',
  },
} as const

export type SourceId = keyof typeof sources
