"""The air's properties as skins need them. By themselves, so that who reads them here loads no compiler."""

STILL_AIR = (0.0536118, 5.16891e-4, -6.31558e-7, 3.77218e-10)
"""√k of air, in W, m and K, as a cubic in the film's temperature: within 0.002 % from 275 to 400 K."""
RISING_AIR = (1.86961, -4.14863e-3, 6.94377e-6, -4.78698e-9)
"""0.387 √k (g Pr / (T ν²))^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27) of air, as a cubic: within 0.004 % there."""
OF_CYLINDER = 0.99027
"""The same with 0.559 in place of 0.492, as a share: within 0.01 % there."""
