using System.Text.Json;

namespace FruitWatch.Service.Feeds;

/// <summary>Where an answer says that it is from, so that a place mistyped or taken for its neighbour is seen before it counts.</summary>
/// <param name="Latitude">North positive. [°]</param>
/// <param name="Longitude">East positive. [°]</param>
/// <param name="Elevation">Above sea level; null where the answer does not say. [m]</param>
internal sealed record AnswerPlace(double Latitude, double Longitude, double? Elevation)
{
    /// <summary>Farther than this is another place than the site. [km]</summary>
    public const double FarKm = 10;

    /// <summary>Higher or lower than this is another climate; the air is some two degrees colder. [m]</summary>
    public const double HighMetres = 300;

    /// <summary>Mean radius of the earth (IUGG 1980). [km]</summary>
    private const double EarthKm = 6371.0088;

    /// <summary>The place that a JSON answer names at its top, by latitude and longitude or by a GeoJSON geometry (RFC 7946); null for none.</summary>
    public static AnswerPlace? Of(ReadOnlyMemory<byte> body)
    {
        try
        {
            using var document = JsonDocument.Parse(body, new JsonDocumentOptions { MaxDepth = 32 });
            return document.RootElement.ValueKind == JsonValueKind.Object ? Of(document.RootElement) : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>Along the earth's surface. [km]</summary>
    public double KmFrom(double latitude, double longitude)
    {
        var (here, there) = (double.DegreesToRadians(Latitude), double.DegreesToRadians(latitude));
        var a = Square(Math.Sin((there - here) / 2))
            + Math.Cos(here) * Math.Cos(there) * Square(Math.Sin(double.DegreesToRadians(longitude - Longitude) / 2));
        return 2 * EarthKm * Math.Asin(Math.Min(1, Math.Sqrt(a)));
    }

    private static AnswerPlace? Of(JsonElement root)
    {
        if (Number(root, "latitude") is { } latitude && Number(root, "longitude") is { } longitude)
            return Checked(latitude, longitude, Number(root, "elevation"));
        if (!root.TryGetProperty("geometry", out var geometry) || geometry.ValueKind != JsonValueKind.Object
            || !geometry.TryGetProperty("coordinates", out var coordinates) || !geometry.TryGetProperty("type", out var type))
            return null;
        var points = type.ValueKind == JsonValueKind.String ? PointsOf(type.GetString()!, coordinates) : [];
        if (points.Count == 0)
            return null;
        var height = points[0].Count > 2 ? points[0][2] : HeightIn(root);
        return Checked(points.Average(point => point[1]), points.Average(point => point[0]), height);
    }

    /// <summary>A point, or the outer ring of an area without the point that closes it.</summary>
    private static List<IReadOnlyList<double>> PointsOf(string type, JsonElement coordinates)
    {
        if (type == "Point")
            return PointOf(coordinates) is { } point ? [point] : [];
        if (type != "Polygon" || coordinates.ValueKind != JsonValueKind.Array || coordinates.GetArrayLength() == 0
            || coordinates[0].ValueKind != JsonValueKind.Array)
            return [];
        var ring = coordinates[0].EnumerateArray().Select(PointOf).OfType<IReadOnlyList<double>>().ToList();
        return ring.Count > 3 ? ring[..^1] : [];
    }

    private static IReadOnlyList<double>? PointOf(JsonElement json)
    {
        if (json.ValueKind != JsonValueKind.Array || json.GetArrayLength() < 2)
            return null;
        var numbers = json.EnumerateArray().Where(one => one.ValueKind == JsonValueKind.Number).Select(one => one.GetDouble()).ToList();
        return numbers.Count >= 2 ? numbers : null;
    }

    /// <summary>GeoJSON has no member for the height of an area; services put it among the properties, bare or with its unit.</summary>
    private static double? HeightIn(JsonElement root)
    {
        if (!root.TryGetProperty("properties", out var properties) || properties.ValueKind != JsonValueKind.Object
            || !properties.TryGetProperty("elevation", out var height))
            return null;
        if (height.ValueKind == JsonValueKind.Number)
            return height.GetDouble();
        var inMetres = height.ValueKind == JsonValueKind.Object && height.TryGetProperty("unitCode", out var unit)
            && unit.ValueKind == JsonValueKind.String && unit.GetString() is "wmoUnit:m" or "unit:m";
        return inMetres ? Number(height, "value") : null;
    }

    private static AnswerPlace? Checked(double latitude, double longitude, double? elevation) =>
        latitude is >= -90 and <= 90 && longitude is >= -180 and <= 180 ? new AnswerPlace(latitude, longitude, elevation) : null;

    private static double? Number(JsonElement json, string name) =>
        json.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && double.IsFinite(number)
            ? number
            : null;

    private static double Square(double x) => x * x;
}
