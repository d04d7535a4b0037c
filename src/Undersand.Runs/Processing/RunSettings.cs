using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Imaging.Seabed;
using Undersand.Signal;

namespace Undersand.Runs.Processing;

/// <summary>Every setting of a run, and how each step names those it used.</summary>
internal sealed class RunSettings
{
    /// <summary>Diameter of the sphere that “what could have been seen” speaks of, metres.</summary>
    public const double ReferenceDiameter = 0.2;

    private readonly ProcessRequest _request;

    private RunSettings(ProcessRequest request, int threads)
    {
        _request = request;
        var usual = new ImagingSettings();
        Imaging = usual with
        {
            Conditioning = usual.Conditioning with { Compression = usual.Conditioning.Compression with { Weight = request.Whiten ? SpectralWeight.Taylor : SpectralWeight.Hann } },
            UndoAbsorption = !request.Without.Contains("absorption"),
            UndoSpreading = !request.Without.Contains("spreading"),
            UndoTransmission = !request.Without.Contains("transmission"),
            PlainEngine = request.Engine == "plain",
        };
        Detection = new DetectionSettings { DegreeOfParallelism = threads };
        Engine = request.Engine == "plain" ? "plain" : $"vector, {Undersand.Imaging.Focusing.Focuser.VectorKind}";
    }

    public static IReadOnlyDictionary<string, string> None { get; } = new Dictionary<string, string>();

    public ImagingSettings Imaging { get; }

    public DetectionSettings Detection { get; }

    /// <summary>The kernel, and what of the machine can change a bit of its sums.</summary>
    public string Engine { get; }

    public IReadOnlyDictionary<string, string> Scanning => new Dictionary<string, string>
    {
        ["pulse"] = $"{Imaging.Conditioning.Compression.Weight} spectrum over the band, replica divided out",
        ["tones"] = $"removed where {Imaging.Conditioning.ToneDb:0} dB over their surroundings",
        ["bursts"] = $"pings left out where {Imaging.Conditioning.BurstDb:0} dB over their neighbours",
        ["seabed"] = $"tracked from ping to ping, at least {Imaging.Conditioning.SeabedSnrDb:0} dB over noise",
    };

    public static IReadOnlyDictionary<string, string> Seabed => new Dictionary<string, string>
    {
        ["smoothing"] = $"{SeabedModel.Smoothing:0.##} m, full width at half maximum",
    };

    public IReadOnlyDictionary<string, string> Summation => new Dictionary<string, string>
    {
        ["engine"] = Engine,
        ["aperture"] = $"{Imaging.MaxAngle.Degrees:0}° from the vertical, {Imaging.Groups} groups along the track",
        ["seabed’s echo"] = Imaging.Conditioning.SubtractSeabed ? $"modelled over ±{Imaging.Conditioning.TemplateReach:0.#} m of track and subtracted to {Imaging.Conditioning.TemplateBurial:0.##} m of burial" : "left in",
        ["returns by vehicle and surface"] = Imaging.Conditioning.SubtractReturns ? "modelled and subtracted" : "left in",
        ["spreading"] = Undone(Imaging.UndoSpreading),
        ["absorption"] = Undone(Imaging.UndoAbsorption),
        ["transmission"] = Undone(Imaging.UndoTransmission),
    };

    public IReadOnlyDictionary<string, string> Evidence => new Dictionary<string, string>
    {
        ["background"] = $"ring of {Detection.RingInner:0.##}–{Detection.RingOuter:0.##} m",
        ["layers"] = $"followed {Detection.LayerRadius:0.##} m sideways, dips up to {Detection.LayerSlope:0.##}",
        ["null"] = $"learnt from the survey in bands of {Detection.BandHeight:0.##} m",
    };

    public IReadOnlyDictionary<string, string> Measuring => new Dictionary<string, string>
    {
        ["listed from"] = $"probability {Detection.ListFrom:0.##}",
        ["navigation"] = $"{Detection.NavigationSd:0.###} m standard deviation",
        ["sediment speed"] = $"{100 * Detection.SedimentSpeedRelativeSd:0.#} % standard deviation",
    };

    public static RunSettings For(ProcessRequest request, int threads) => new(request, threads);

    /// <summary>The survey with what the command line overrides.</summary>
    public Survey Override(Survey survey) => survey with
    {
        Image = new ImageSettings(_request.MaxBurial ?? survey.Image.MaxBurial, _request.Voxel ?? survey.Image.Voxel),
    };

    /// <summary>All of them, for run.json.</summary>
    public IReadOnlyDictionary<string, object?> All(Survey survey) => new SortedDictionary<string, object?>(StringComparer.Ordinal)
    {
        ["voxel_m"] = survey.Image.Voxel,
        ["max_burial_m"] = survey.Image.MaxBurial,
        ["max_angle_deg"] = Imaging.MaxAngle.Degrees,
        ["aperture_groups"] = Imaging.Groups,
        ["spectral_weight"] = Imaging.Conditioning.Compression.Weight.ToString(),
        ["undo_spreading"] = Imaging.UndoSpreading,
        ["undo_absorption"] = Imaging.UndoAbsorption,
        ["undo_transmission"] = Imaging.UndoTransmission,
        ["subtract_seabed"] = Imaging.Conditioning.SubtractSeabed,
        ["template_burial_m"] = Imaging.Conditioning.TemplateBurial,
        ["subtract_returns"] = Imaging.Conditioning.SubtractReturns,
        ["least_template_track_m"] = Imaging.Conditioning.LeastTemplateTrack,
        ["template_reach_m"] = Imaging.Conditioning.TemplateReach,
        ["list_from_probability"] = Detection.ListFrom,
        ["navigation_sd_m"] = Detection.NavigationSd,
        ["sediment_speed_relative_sd"] = Detection.SedimentSpeedRelativeSd,
        ["objects_per_hectare"] = survey.Prior.ObjectsPerHectare,
        ["smallest_object_m"] = survey.Prior.SmallestObject,
        ["reference_sphere_m"] = ReferenceDiameter,
    };

    private static string Undone(bool undone) => undone ? "undone" : "left in, as asked";
}
