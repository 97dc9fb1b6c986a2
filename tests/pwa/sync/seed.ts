// Random tests print their seed and take it back from the environment.

declare const process: { env: { [name: string]: string | undefined } };

export const SEED = Number(process.env.SPORELINE_TEST_SEED ?? Math.floor(Math.random() * 2 ** 31));

export const runs = (usual: number) => Number(process.env.SPORELINE_TEST_RUNS ?? usual);
