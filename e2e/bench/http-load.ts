/** Requests the same page from a local server many times, over a few connections that stay open. */
import { Agent, get } from 'node:http';

import { percentile } from './statistics.ts';

export interface Load {
  url: string;
  /** Connections at the same time. */
  connections: number;
  /** Requests in all. */
  requests: number;
}

/** Percentiles of the response times, in ms. A status other than 200 is an error. */
export async function load({ url, connections, requests }: Load): Promise<{ p50: number; p99: number }> {
  const agent = new Agent({ keepAlive: true, maxSockets: connections });
  const samples: number[] = [];
  let left = requests;
  const client = async (): Promise<void> => {
    while (left > 0) {
      left -= 1;
      const from = performance.now();
      await fetched(url, agent);
      samples.push(performance.now() - from);
    }
  };
  await Promise.all(Array.from({ length: connections }, client));
  agent.destroy();
  return { p50: percentile(samples, 0.5), p99: percentile(samples, 0.99) };
}

function fetched(url: string, agent: Agent): Promise<void> {
  return new Promise((resolve, reject) => {
    const request = get(url, { agent }, (response) => {
      response.resume();
      response.once('error', reject);
      response.once('end', () => {
        if (response.statusCode === 200) resolve();
        else reject(new Error(`${url} answered ${response.statusCode}`));
      });
    });
    request.once('error', reject);
  });
}
