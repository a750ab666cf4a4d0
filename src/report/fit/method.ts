/** How the figures were found, one line each; for the last page of fit.html. */
export const HOW_IT_WAS_DONE: readonly string[] = [
  'Curves are fitted by maximum likelihood. Units still working, units first watched late and failures known only between two visits each count for as much as is known of them.',
  'Ranges come from the profile of the likelihood: all values of a figure that make the records nearly as likely as the best fit does. They are not symmetric, and should not be.',
  'Of several curves the plainest is kept unless a richer one lowers the corrected information criterion (AICc, counted by failures) by more than 2.',
  '"Seen" is the Kaplan–Meier estimate, or the Turnbull estimate where failures lie between two visits. Neither assumes a curve. The range around the first is Greenwood’s, symmetric on the scale ln(−ln S) (Kalbfleisch and Prentice, 1980; recalled), for each age by itself.',
  'Seen and expected failures by age are compared by a chi-square test that allows for the curve having been fitted to the same records (Hjort, 1990).',
  'The 200 sets of figures given to a scenario are equally likely, and each set is one curve: shape and life are drawn together.',
  'A replacement counts as a new unit with its age from 0, unless its row starts at the age at which the last one ended.',
  'A year has 365 days.',
]
