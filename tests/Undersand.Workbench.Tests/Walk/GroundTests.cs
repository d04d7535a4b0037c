using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Base maps of the user's own, magnetics and finds, as people see them.</summary>
public sealed class GroundTests(SmallResults small, Browser browser) : IClassFixture<Browser>, IDisposable
{
    private const string Make = """
        import sys
        from osgeo import gdal, ogr, osr
        gdal.UseExceptions()
        folder = sys.argv[1]
        system = osr.SpatialReference(); system.ImportFromEPSG(32631)
        d = gdal.GetDriverByName('GTiff').Create(f'{folder}/chart.tif', 300, 300, 3, gdal.GDT_Byte, ['TILED=YES', 'COMPRESS=DEFLATE'])
        d.SetProjection(system.ExportToWkt()); d.SetGeoTransform([499985, 0.1, 0, 5760015, 0, -0.1])
        for b, v in enumerate((20, 130, 70)): d.GetRasterBand(b + 1).Fill(v)
        gdal.GetDriverByName('GPKG').CreateCopy(f'{folder}/tiles.gpkg', d, options=['TILE_FORMAT=PNG'])
        d = None
        v = ogr.GetDriverByName('GPKG').CreateDataSource(f'{folder}/harbour.gpkg')
        l = v.CreateLayer('harbour', system, ogr.wkbUnknown)
        f = ogr.Feature(l.GetLayerDefn()); f.SetGeometry(ogr.CreateGeometryFromWkt('LINESTRING (499990 5759990,500010 5760010)')); l.CreateFeature(f)
        """;

    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("light")]
    [InlineData("dark")]
    [InlineData("night")]
    [InlineData("sun")]
    public async Task A_base_map_lies_under_the_survey_and_says_whose_it_is(string theme)
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path);
        _folder.Write("broken.tif", "II*");
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(small.Folder) { Bases = [_folder["chart.tif"], _folder["tiles.gpkg"], _folder["broken.tif"], _folder["harbour.gpkg"]] });
        Assert.Contains("broken.tif: this GeoTIFF can't be read", Assert.Single(workbench.Refused));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address, theme);
        IPage page = watched.Page;
        await watched.GoAsync("/");
        ILocator key = page.Locator("#map-key");
        await Assertions.Expect(key).ToContainTextAsync("chart.tif: position as the file says");
        await Assertions.Expect(key).ToContainTextAsync("harbour.gpkg: position as the file says");
        await Assertions.Expect(key).ToContainTextAsync("broken.tif");
        await page.WaitForFunctionAsync("() => [0, 1].every(i => performance.getEntriesByType('resource').some(r => r.name.includes(`/base/${i}/`)))");
        await page.GetByText("Layers", new() { Exact = true }).ClickAsync();
        await page.GetByLabel("chart.tif").FillAsync("0");
        await Assertions.Expect(key).Not.ToContainTextAsync("chart.tif");
        await page.GetByLabel("tiles.gpkg").FillAsync("40");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("base=0,40,70"));
        await watched.AssertAccessibleAsync();
        await watched.GoAsync(new Uri(page.Url).PathAndQuery);
        await Assertions.Expect(page.GetByLabel("tiles.gpkg")).ToHaveValueAsync("40");
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Not_surveyed_is_seen_over_any_base_map()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path);
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(small.Folder) { Bases = [_folder["chart.tif"]] });
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        await watched.GoAsync("/?base=100&c=499990.00,5760008.00&r=0.02");
        // The base's own colour, and strokes both darker and lighter than it, on the map's pictures.
        await watched.Page.WaitForFunctionAsync(
            """
            () => {
              const drawn = document.createElement('canvas'), c = drawn.getContext('2d');
              drawn.width = drawn.height = 64;
              for (const canvas of document.querySelectorAll('.ol-layers canvas')) c.drawImage(canvas, 200, 200, 64, 64, 0, 0, 64, 64);
              const pixels = c.getImageData(0, 0, 64, 64).data, greens = [];
              for (let i = 0; i < pixels.length; i += 4) greens.push(pixels[i + 1]);
              return greens.some(g => Math.abs(g - 130) < 3) && greens.some(g => g < 80) && greens.some(g => g > 200);
            }
            """);
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Magnetics_and_finds_have_their_words_and_a_hole_ends_where_it_ended()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/?p=500001.00,5759999.00,500007.00,5759999.00");
        ILocator key = page.Locator("#map-key");
        await Assertions.Expect(key).ToContainTextAsync("▲ above, ▽ below, larger for more, the most 40 nT");
        await Assertions.Expect(key).ToContainTextAsync("An empty hole says nothing about what lies below it.");
        await Assertions.Expect(page.Locator("#cut-readout")).ToContainTextAsync("An empty hole says nothing about what lies below it.");
        await page.GetByText("Layers", new() { Exact = true }).ClickAsync();
        await page.GetByLabel("Finds and empty holes").UncheckAsync();
        await page.GetByLabel("Magnetics").UncheckAsync();
        await Assertions.Expect(key).ToBeHiddenAsync();
        await page.GetByLabel("Longitude and latitude").CheckAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("off=finds.magnetics"));
        watched.AssertQuiet();
    }

    [Fact]
    public async Task A_measure_snaps_to_a_find_and_says_so()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/?c=500006.20,5759999.00&r=0.02&off=graticule.lines");
        ILocator map = page.Locator("#map");
        await map.FocusAsync();
        await page.Keyboard.PressAsync("m");
        LocatorBoundingBoxResult box = (await map.BoundingBoxAsync())!;
        await map.ClickAsync(new() { Position = new() { X = box.Width / 2 + 5, Y = box.Height / 2 + 5 } });
        // From the find itself, and not from the place clicked, it is 10 pixels of 2 cm to the east.
        await map.HoverAsync(new() { Position = new() { X = box.Width / 2 + 10, Y = box.Height / 2 } });
        await Assertions.Expect(page.Locator("#readout")).ToContainTextAsync(new Regex(@"^0\.(19|20|21) m towards (8[4-9]|9[0-6])\.\d° \(grid\) · from find: nothing to 0\.5 m"));
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Latitude_and_longitude_are_a_place_too()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/");
        await watched.PressAsync("p");
        await page.Keyboard.TypeAsync("51.99, 3.0");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("c=500000.00,57"));
        watched.AssertQuiet();
    }
}
