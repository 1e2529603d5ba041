import { InputError } from '@kinprint/mesh';

/** What is made of input; null where the input is at fault, which is told elsewhere. @throws Error for a fault of ours */
export async function inputOrNull<T>(make: () => T | Promise<T>): Promise<T | null> {
  try {
    return await make();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
