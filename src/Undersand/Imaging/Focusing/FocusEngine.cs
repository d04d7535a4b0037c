namespace Undersand.Imaging.Focusing;

/// <summary>Which of the engines does the sum. They agree exactly in the counts, and in the sums as far as <see cref="FocusSettings.PathTolerance"/> allows.</summary>
public enum FocusEngine
{
    /// <summary>The plain version: exact rays in double precision, one voxel and trace at a time.</summary>
    Plain,

    /// <summary>The fast version: travel times as polynomials, many levels at a time in vectors.</summary>
    Vector,
}
