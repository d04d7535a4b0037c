namespace Undersand.Imaging.Focusing;

/// <summary>Which of the engines does the sum. They agree to 2·10⁻⁵ of the image's energy root, and exactly in the counts.</summary>
public enum FocusEngine
{
    /// <summary>The plain version: exact rays in double precision, one voxel and trace at a time.</summary>
    Plain,

    /// <summary>The fast version: travel times as polynomials, many levels at a time in vectors.</summary>
    Vector,
}
