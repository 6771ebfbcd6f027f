// The demo's way into the server: the same HTTP doors that people's browsers use.
import type { BoardBody } from "#contract/board.ts";
import type { ProblemBody } from "#contract/problem.ts";
import { sayFaults } from "#contract/faults.ts";

export class Api {
  constructor(private readonly origin: string) {}

  private async ask(method: string, path: string, body?: object): Promise<unknown> {
    const response = await fetch(`${this.origin}/api/v1${path}`, {
      method,
      ...(body === undefined ? {} : { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
    });
    const answer: unknown = await response.json();
    if (response.ok) return answer;
    const problem = answer as ProblemBody;
    throw new Error(
      `${method} ${path}: ${problem.title}${problem.faults === undefined ? "" : `: ${sayFaults(problem.faults)}`}`,
    );
  }

  post(path: string, body: object): Promise<unknown> {
    return this.ask("POST", path, body);
  }

  put(path: string, body: object): Promise<unknown> {
    return this.ask("PUT", path, body);
  }

  async board(site: string): Promise<BoardBody> {
    return (await this.ask("GET", `/sites/${site}/board`)) as BoardBody;
  }
}
