// What a leaf and the thread that reckons for it say to each other.
import type { Reply } from "./load";

// Order is either where the module is, first and once, or a request with a number
// that the answer repeats.
export type Order = { module: string } | { number: number; request: string };

// Report says that the module is ready or why it is not, or answers a request.
export type Report =
  | { is: "ready" }
  | { is: "missing"; why: string }
  | { is: "answer"; number: number; reply: Reply }
  | { is: "stopped"; number: number; why: string };
