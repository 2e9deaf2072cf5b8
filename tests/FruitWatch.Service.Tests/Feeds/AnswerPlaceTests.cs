using System.Text;
using FruitWatch.Service.Feeds;

namespace FruitWatch.Service.Tests.Feeds;

public sealed class AnswerPlaceTests
{
    [Theory]
    [InlineData("""{"latitude":43.2,"longitude":-3.1,"elevation":120}""", 43.2, -3.1, 120.0)]
    [InlineData("""{"geometry":{"type":"Point","coordinates":[10,60,499]}}""", 60, 10, 499.0)]
    [InlineData("""{"geometry":{"type":"Polygon","coordinates":[[[0,0],[2,0],[2,2],[0,2],[0,0]]]},"properties":{"elevation":{"unitCode":"wmoUnit:m","value":7}}}""", 1, 1, 7.0)]
    public void The_place_of_an_answer_is_found(string json, double latitude, double longitude, double? elevation) =>
        Assert.Equal(new AnswerPlace(latitude, longitude, elevation), AnswerPlace.Of(Encoding.UTF8.GetBytes(json)));

    [Theory]
    [InlineData("""{"latitude":"43","longitude":-3}""")]
    [InlineData("""{"latitude":143,"longitude":-3}""")]
    [InlineData("""{"geometry":null}""")]
    [InlineData("""{"geometry":{"type":"Point","coordinates":[]}}""")]
    [InlineData("""[1]""")]
    [InlineData("date,tmax\n")]
    public void Where_no_place_is_named_none_is_found(string text) => Assert.Null(AnswerPlace.Of(Encoding.UTF8.GetBytes(text)));

    /// <summary>A degree of latitude is 111.2 km on the sphere; one of longitude at 60° half of it.</summary>
    [Fact]
    public void The_distance_is_that_on_the_sphere()
    {
        Assert.Equal(111.195, new AnswerPlace(1, 0, null).KmFrom(0, 0), 0.01);
        Assert.Equal(55.6, new AnswerPlace(60, 1, null).KmFrom(60, 0), 0.1);
        Assert.Equal(111.195, new AnswerPlace(0, 180, null).KmFrom(0, -179), 0.01);
    }
}
