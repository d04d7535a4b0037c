using NodaTime;

namespace Undersand;

/// <summary>Something a person said about a target; it stands beside the machine's numbers and never replaces them.</summary>
/// <param name="TargetId">The target's id when it was said.</param>
/// <param name="Place">Where the target lay then.</param>
/// <param name="Who">Who said so.</param>
/// <param name="When">When, UTC.</param>
public abstract record Saying(string TargetId, GridPoint Place, string Who, Instant When)
{
    /// <summary>Whether it says nothing: as good as none.</summary>
    public abstract bool IsEmpty { get; }

    /// <summary>What a later saying about the same target must have in common with this one to take its place.</summary>
    public abstract string Slot { get; }
}

/// <summary>Several targets are one thing.</summary>
/// <param name="TargetId">The target that stands for all.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="Others">The others; none: they are not one thing after all.</param>
/// <param name="Who">Who said so.</param>
/// <param name="When">When.</param>
public sealed record Merger(string TargetId, GridPoint Place, IReadOnlyList<string> Others, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Others.Count == 0;

    /// <inheritdoc/>
    public override string Slot => "merger";
}

/// <summary>One target is several things.</summary>
/// <param name="TargetId">The target.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="Parts">Where its parts lie; none: it is one thing after all.</param>
/// <param name="Who">Who said so.</param>
/// <param name="When">When.</param>
public sealed record Partition(string TargetId, GridPoint Place, IReadOnlyList<GridPoint> Parts, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Parts.Count == 0;

    /// <inheritdoc/>
    public override string Slot => "partition";
}

/// <summary>A target's outline as a person sees it.</summary>
/// <param name="TargetId">The target.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="Corners">Three or more, not closed; none: no outline.</param>
/// <param name="Who">Who drew it.</param>
/// <param name="When">When.</param>
public sealed record HandOutline(string TargetId, GridPoint Place, IReadOnlyList<GridPoint> Corners, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Corners.Count == 0;

    /// <inheritdoc/>
    public override string Slot => "outline";

    /// <summary>Square metres.</summary>
    public double Area => Math.Abs(SignedArea);

    /// <summary>Which way it was drawn, seen from above.</summary>
    public bool IsAnticlockwise => SignedArea > 0;

    private double SignedArea => Corners.Index().Sum(c => c.Item.Easting * Corners[(c.Index + 1) % Corners.Count].Northing - Corners[(c.Index + 1) % Corners.Count].Easting * c.Item.Northing) / 2;
}

/// <summary>A target's measures as a person took them, metres; null where not taken.</summary>
/// <param name="TargetId">The target.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="Length">Full length.</param>
/// <param name="Width">Full width.</param>
/// <param name="Thickness">Full thickness.</param>
/// <param name="Burial">Burial of the top below the seabed.</param>
/// <param name="Source">How they were taken (“by probe”, “read off the section”); may be empty.</param>
/// <param name="Who">Who took them.</param>
/// <param name="When">When they were written down.</param>
public sealed record HandMeasure(string TargetId, GridPoint Place, double? Length, double? Width, double? Thickness, double? Burial, string Source, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Length is null && Width is null && Thickness is null && Burial is null;

    /// <inheritdoc/>
    public override string Slot => "measure";
}

/// <summary>A photograph of a target; the picture lies in <c>photographs/</c>.</summary>
/// <param name="TargetId">The target.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="File">The picture's file name: its SHA-256 and the ending of its kind.</param>
/// <param name="Caption">What it shows, for those who see it and for those who don't.</param>
/// <param name="IsPublic">Whether it may go into the public version.</param>
/// <param name="IsRemoved">Whether it was taken off the target.</param>
/// <param name="Who">Who attached it.</param>
/// <param name="When">When.</param>
public sealed record Photograph(string TargetId, GridPoint Place, string File, string Caption, bool IsPublic, bool IsRemoved, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => IsRemoved;

    /// <inheritdoc/>
    public override string Slot => "photograph " + File;
}

/// <summary>What was said about a target that is no longer listed is about this one.</summary>
/// <param name="TargetId">The target that is gone.</param>
/// <param name="Place">Where it lay.</param>
/// <param name="NewId">The target that it is now.</param>
/// <param name="Who">Who said so.</param>
/// <param name="When">When.</param>
public sealed record Succession(string TargetId, GridPoint Place, string NewId, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => NewId.Length == 0;

    /// <inheritdoc/>
    public override string Slot => "succession";
}

/// <summary>A round in which a second judge goes through the targets blind; about no target.</summary>
/// <param name="Seed">Makes the order of the targets, and is known only to the second judge's browser.</param>
/// <param name="IsOver">Whether the second opinions may be seen.</param>
/// <param name="Who">The second judge.</param>
/// <param name="When">When it began or ended.</param>
public sealed record BlindRound(string Seed, bool IsOver, string Who, Instant When) : Saying("", default, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Seed.Length == 0;

    /// <inheritdoc/>
    public override string Slot => "blind round";
}

/// <summary>What the public version says of itself; about no target.</summary>
/// <param name="Title">Its title; empty: one that names no place.</param>
/// <param name="Contact">Whom to ask; may be empty.</param>
/// <param name="Who">Who wrote it.</param>
/// <param name="When">When.</param>
public sealed record PublicWords(string Title, string Contact, string Who, Instant When) : Saying("", default, Who, When)
{
    /// <inheritdoc/>
    public override bool IsEmpty => Title.Length == 0 && Contact.Length == 0;

    /// <inheritdoc/>
    public override string Slot => "public words";
}
