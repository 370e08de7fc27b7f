// counting is "1 reading", "2 readings".
export const counting = (n: number, of: string): string => `${n} ${of}${n === 1 ? "" : "s"}`;
