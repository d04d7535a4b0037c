namespace Undersand.Runs.Reporting;

/// <summary>How the result was come by, in a page, with the papers.</summary>
internal static class Method
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        yield return new Heading(1, "Method", "method");
        yield return new Items(
        [
            new("the transmitted waveform is divided out of each trace over its band (a matched filter that is whitened as well, Turin 1960) and the band is weighted, so that an echo becomes a short pulse with low sidelobes whose phase is kept.", "Compression:"),
            new("found under each ping, with lost pings bridged, and smoothed over 0.5 m, twice the Fresnel radius: from that surface burial is counted, and at it rays bend. Each line is imaged under its own seabed, so that tide and height errors cancel. Its echo is modelled from the pings around and subtracted before the summation.", "Seabed:"),
            new("from source to seabed to voxel and back to each receiver, refracted by Snell’s law at the seabed.", "Travel times:"),
            new("spreading, absorption in the water (Francois and Garrison 1982), attenuation in the sediment and transmission through the seabed are undone as far as the steps above say. Where the sediment was given by type, its values are those of the table that the assumptions name (TR 9407, or Jensen et al.).", "Losses:"),
            new("traces of all pings and receivers within the aperture are summed with their phases at the travel time of each voxel. For every voxel and look the complex sum, the sum of squared magnitudes and the number of traces are kept.", "Image:"),
            new("the energy of the coherent sum over its mean in a ring around, line by line, and its mean over the lines. For independent complex Gaussian traces of equal power a formula gives its tail; real traces are correlated, unequal and speckled, so the tail is taken from the survey’s own voxels by burial and shown beside the formula.", "Evidence:"),
            new("peaks of evidence, told from flat layers. Position, burial of the top, size with the blur taken out, and polarity are measured at each.", "Targets:"),
        ]);
        yield return new Heading(2, "References", "references");
        yield return new Items(
        [
            new("Turin, G. L., 1960. An introduction to matched filters. IRE Transactions on Information Theory 6, 311–329."),
            new("Francois, R. E., Garrison, G. R., 1982. Sound absorption based on ocean measurements, parts I and II. Journal of the Acoustical Society of America 72, 896–907 and 1879–1890."),
            new("Applied Physics Laboratory, University of Washington, 1994. High-frequency ocean environmental acoustic models handbook, TR 9407."),
            new("Jensen, F. B., Kuperman, W. A., Porter, M. B., Schmidt, H. Computational ocean acoustics, table 1.3."),
            new("UNESCO, 2001. Convention on the Protection of the Underwater Cultural Heritage, Annex: Rules concerning activities directed at underwater cultural heritage."),
        ]);
    }
}
