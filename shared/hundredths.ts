/** A length in a picture, to the hundredth: nobody sees less, and the numbers stay short. */
export const hundredths = (length: number): number => Math.round(length * 100) / 100;
