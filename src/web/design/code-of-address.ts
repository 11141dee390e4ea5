/** What the router leaves as it is written in an address, because it would cut the address there. */
const LEFT = /%(?:3B|2F|3F|3A|40|26|3D|2B|24|2C|23)/giu;

/** A code in an address. The router has undone what it can; a slash or a number sign of a code is undone here, a percent sign stays one. */
export const codeOfAddress = (parameter: string): string => parameter.replaceAll(LEFT, decodeURIComponent);
