using System.Text.Json.Nodes;
using BackHistory.Trends.Lines;

namespace BackHistory.Trends.Tests;

public class Lines_of_the_verb_repeatability
{
    static JsonObject Answer(string line) => (JsonObject)JsonNode.Parse(RepeatabilityLine.Answer(line, 3).Json)!;

    [Theory]
    [InlineData("""{"id":"r","subjects":[[1,2],[3""", "unreadable")]
    [InlineData("""{"id":"r"}""", "unreadable")]
    [InlineData("""{"subjects":[[1,2]]}""", "unreadable")]
    [InlineData("""{"id":"r","subjects":[[1,2]],"raters":2}""", "unreadable")]
    [InlineData("""{"id":"r","subjects":[1,2]}""", "unreadable")]
    [InlineData("""{"id":"r","subjects":[["1",2]]}""", "unreadable")]
    [InlineData("""{"id":"r","subjects":[[null,2]]}""", "not-finite")]
    [InlineData("""{"id":"r","subjects":[[1e999,2]]}""", "not-finite")]
    [InlineData("""{"id":"r","subjects":[[1e308,-1e308]]}""", "not-finite")]
    public void A_table_that_cannot_be_judged_says_why(string line, string code)
    {
        var (json, refused) = RepeatabilityLine.Answer(line, 3);
        Assert.True(refused);
        Assert.Equal(code, (string?)JsonNode.Parse(json)!["refused"]!["code"]);
    }

    [Theory, InlineData("[]"), InlineData("[[31.0]]"), InlineData("[[31.0],[28.0],[]]")]
    public void Without_repeats_there_is_no_spread_and_no_degree_of_freedom(string subjects)
    {
        var answer = Answer($$"""{"id":"r","subjects":{{subjects}}}""");
        Assert.Equal(0, (int)answer["df"]!);
        foreach (var field in new[] { "withinSd", "minimalDetectable", "icc11", "icc21", "icc31" })
        {
            Assert.True(answer.ContainsKey(field));
            Assert.Null(answer[field]);
        }
    }

    [Fact]
    public void The_example_of_the_contract_is_answered_as_printed()
    {
        var answer = Answer("""{"id":"r1","subjects":[[31.0,31.8],[28.4,28.1,28.9]]}""");
        Assert.Equal(0.4643, (double)answer["withinSd"]!, 5e-5);
        Assert.Equal(3, (int)answer["df"]!);
        Assert.Equal(1.2869, (double)answer["minimalDetectable"]!, 5e-5);
        Assert.Null(answer["icc11"]);
    }

    [Fact]
    public void One_subject_of_many_repeats_has_a_spread_but_no_correlation()
    {
        var answer = Answer("""{"id":"r","subjects":[[1,2,3]]}""");
        Assert.Equal(1, (double)answer["withinSd"]!, 1e-12);
        Assert.Null(answer["icc31"]);
    }
}
