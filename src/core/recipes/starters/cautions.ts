/** What must be said beside a recipe, one plain paragraph each. */

export const byWater =
  'Boiling water and hot jars: adults only at the stove. Time and headspace are those of the tested process for your altitude; ask your local extension service or food authority where yours differs.'

export const byPressure =
  'A pressure canner is watched by an adult from the first steam to the opened lid: vent it for ten minutes, keep the pressure, let it fall by itself and open the lid away from you. Use the tested process for your altitude and gauge, and have a dial gauge checked every year; ask your local extension service or food authority.'

export const boilingSugar = 'Boiling sugar sticks and burns: children stay out of reach of the stove.'

export const knives = 'Peeling and cutting with sharp knives is no work for small children.'

export const boilingPot = 'A large pot of boiling food scalds: adults only at the stove.'

export const notForShelf = 'Keep it cold: this is not for the shelf.'

export const tomatoAcid = 'Tomatoes need the full measure of bottled lemon juice or citric acid in each jar.'

export const figAcid = 'Figs need the full measure of bottled lemon juice or citric acid in each jar.'

export const asWritten =
  'Keep to these proportions: more vegetables or less acid is no longer the tested recipe. Only spices may change.'

export const acidAsSold =
  'Use vinegar sold with 5 % acid and bottled juice: home-made vinegar and fresh juice vary too much.'

export const tableVinegar =
  'Home-made vinegar is for the table: not for canning unless its acid has been measured at 5 %.'

export const hotPeppers = 'Hot peppers burn skin and eyes: wear gloves, and keep children away from them.'

export const yellowPeaches = 'Yellow-fleshed peaches only: white ones can be too low in acid for this process.'

export const clearFerment =
  'Keep everything under the brine. Throw it all away if it turns soft, slimy or smells foul; do not taste it to find out.'

export const lowOven = 'An oven that cannot hold a low temperature is second best for drying.'
