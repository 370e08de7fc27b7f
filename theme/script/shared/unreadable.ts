// Unreadable says in the end of a sentence why a file or a text is not what it should
// be, and what to do: "is damaged …".
export class Unreadable extends Error {
  constructor(
    message: string,
    readonly newer = false, // an edition that is newer than this one has made it
  ) {
    super(message);
  }
}

// texts tells an object that holds texts only.
export const texts = (of: unknown): boolean => typeof of === "object" && of !== null && Object.values(of).every((v) => typeof v === "string");
